package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// What a golden journal's session said is in testdata, kept by the tests of the lines themselves.
func TestReplayOfGoldenJournals(t *testing.T) {
	for _, name := range []string{"every-kind", "misread", "turned"} {
		journalFile := filepath.Join("..", "..", "testdata", "journal", "v1-"+name+".jsonl")
		for ext, args := range map[string][]string{".jsonl": {"--json"}, ".txt": nil} {
			want, err := os.ReadFile(filepath.Join("..", "..", "testdata", "lines", name+ext))
			if err != nil {
				t.Fatal(err)
			}
			if got := tell(t, "", append([]string{"replay", journalFile}, args...)...); got != string(want) {
				t.Errorf("%s: replayed\n%s\nwant\n%s", name+ext, got, want)
			}
		}
	}
}

// words are what a person may type besides the answer that is asked for, sense or nonsense.
var words = []string{"undo", "undo", "skip", "keep", "closing", "even", "again", "enough", "note plate 7, ø60", "hold 42.1 0.05",
	"release", "at offset 41.9", "bezel 0.1 0.12", "off free", "accept", "abc", "99", "0.1", ""}

// story makes the lines that a person types in one session of several settings: mostly what a practice
// machine answers, and words between.
func story(t *rapid.T) []string {
	seed := rapid.Uint64Range(1, 500).Draw(t, "machine")
	odds := rapid.IntRange(1, 12).Draw(t, "one word in")
	random := rand.New(rand.NewPCG(seed, uint64(odds)))
	set, err := practiceSetting(practice.Carried.Files())
	if err != nil {
		t.Fatal(err)
	}
	live := session.NewLive(session.State{}, &session.Memory{})
	machine := practice.New(practice.Bench(seed), seed)
	var typed []string
	for range 45 {
		s := live.State()
		if s.Phase == session.Unopened || s.Accepted() {
			if _, err := live.Do(session.Open{Opened: set}, time.Time{}); err != nil {
				t.Fatal(err)
			}
			s = live.State()
		}
		c, _, err := machine.Do(s.Prompt())
		if err != nil {
			t.Fatal(err)
		}
		line := answerText(c)
		if random.IntN(odds+1) == 0 {
			line = words[random.IntN(len(words))]
		}
		typed = append(typed, line)
		read := func(text string) (session.Command, error) { return session.Parse(text, geom.Millimetre) }
		if c, err := parseAnswer(line, read); err == nil {
			_, _ = live.Do(c, time.Time{}) // a refusal is part of the story
		}
	}
	return typed
}

// answerText is how a person types what simulated hands answer.
func answerText(c session.Command) string {
	switch c := c.(type) {
	case session.Take:
		return strconv.FormatFloat(c.Reading, 'g', -1, 64)
	case session.Skip:
		return "off " + string(c.Off)
	case session.Accept:
		return "accept"
	case session.Restart:
		return "again"
	}
	return "done"
}

// lived plays a story on one journal, put down at the given lines and taken up again, and returns what
// the sessions said.
func lived(t *rapid.T, dir string, typed []string, pauses map[int]bool, args ...string) (said, journalFile string) {
	journalFile = filepath.Join(dir, "j.jsonl")
	open := append([]string{"dial", "--lines", "--journal", journalFile, "--job", filepath.Join(dir, benchFiles[0]), "--machine",
		filepath.Join(dir, benchFiles[1])}, args...)
	resume := append([]string{"dial", "--lines", "--journal", journalFile, "--resume"}, args...)
	var all strings.Builder
	next := open
	for len(typed) > 0 {
		n := 1
		for n < len(typed) && !pauses[len(typed)-n] {
			n++
		}
		var out, complaints bytes.Buffer
		accepts := func() bool {
			text := out.String()
			return strings.Contains(text, "\n{\"say\":\"accepted\"") || strings.Contains(text, "\naccepted in trial")
		}
		in := &countingReader{lines: typed[:n], over: accepts}
		at := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
		w := world{in: in, out: &out, err: &complaints, now: func() time.Time { return at },
			getenv: func(name string) string { return map[string]string{"XDG_DATA_HOME": dir}[name] }}
		if code := run(next, w); code != exitDone {
			t.Fatalf("%q: exit code %d: %s", next, code, complaints.String())
		}
		all.Write(out.Bytes())
		typed = typed[in.given:]
		next = resume
		if accepts() {
			next = open
		}
	}
	return all.String(), journalFile
}

// countingReader gives one line a read, and counts those it gave: a session that is accepted, and so over, is left, and the rest
// goes to the next.
type countingReader struct {
	lines []string
	given int
	over  func() bool
}

func (r *countingReader) Read(p []byte) (int, error) {
	if r.given == len(r.lines) || r.over() {
		return 0, io.EOF
	}
	r.given++
	return copy(p, r.lines[r.given-1]+"\n"), nil
}

// caused leaves out what no event caused: refused, resumed, paused, and the question that is asked once
// more behind the first two.
func caused(said string) string {
	var out strings.Builder
	repeated := false
	for _, l := range strings.SplitAfter(said, "\n") {
		is := func(word, text string) bool {
			return strings.HasPrefix(l, `{"say":"`+word+`"`) || strings.HasPrefix(l, text)
		}
		switch {
		case is("refused", "not taken: "), is("resumed", "resumed: "):
			repeated = true
		case is("paused", "paused; "):
			repeated = false
		case repeated:
			repeated = false
		default:
			out.WriteString(l)
		}
	}
	return out.String()
}

// A replay says the bytes that the live session said, in both forms and both units, whatever was typed
// and wherever the session was put down.
func TestReplaySaysWhatWasSaid(t *testing.T) {
	root, n := t.TempDir(), 0
	refused, resumed, accepted := 0, 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		typed := story(rt)
		pauses := map[int]bool{}
		for _, p := range rapid.SliceOfN(rapid.IntRange(1, len(typed)-1), 0, 6).Draw(rt, "pauses") {
			pauses[p] = true
		}
		forms := [][]string{{"--json"}, nil, {"--json", "--unit", "in"}, {"--unit", "in"}}
		args := forms[rapid.IntRange(0, len(forms)-1).Draw(rt, "form")]
		n++
		dir := filepath.Join(root, fmt.Sprint(n))
		if err := os.Mkdir(dir, 0o700); err != nil {
			rt.Fatal(err)
		}
		if err := copyBench(dir); err != nil {
			rt.Fatal(err)
		}
		said, journalFile := lived(rt, dir, typed, pauses, args...)
		refused += strings.Count(said, `"say":"refused"`) + strings.Count(said, "not taken: ")
		resumed += strings.Count(said, `"say":"resumed"`) + strings.Count(said, "\nresumed: ")
		accepted += strings.Count(said, `"say":"accepted"`) + strings.Count(said, "\naccepted in trial")
		got := tell(t, "", append([]string{"replay", journalFile}, args...)...)
		if want := caused(said); got != want {
			g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
			for i := range min(len(g), len(w)) {
				if g[i] != w[i] {
					rt.Fatalf("line %d replayed\n%s\nlive\n%s", i+1, g[i], w[i])
				}
			}
			rt.Fatalf("%d lines replayed, %d live", len(g), len(w))
		}
	})
	if refused == 0 || resumed == 0 || accepted < 2 {
		t.Errorf("%d refused, %d resumed, %d accepted: the stories do not try enough", refused, resumed, accepted)
	}
}
