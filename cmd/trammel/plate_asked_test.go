package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/practice"
)

// shownJobFile is the job file that the help shows, as somebody would type it off.
func shownJobFile(t *testing.T) []byte {
	t.Helper()
	const page = "cmd/trammel/help/job-file.txt"
	for _, b := range blocksOf(page, shownPages(t)[page]) {
		if b.named() == "job.toml" {
			return []byte(b.text())
		}
	}
	t.Fatal("the help shows no job file")
	return nil
}

// toldQuestion is what this test reads of what dial says before the session begins.
type toldQuestion struct {
	Say, Key string
	Default  any
	ZeroAt   *float64 `json:"zero_at"`
	Because  string
}

// answering runs dial --lines --json and answers each question; the first line of the session is answered with quit. It returns
// what was asked, and that line's word.
func answering(t *testing.T, home string, at time.Time, answer func(q *toldQuestion) string, args ...string) (asked []toldQuestion,
	first string) {
	t.Helper()
	folders := map[string]string{"XDG_DATA_HOME": filepath.Join(home, "data"), "XDG_CONFIG_HOME": filepath.Join(home, "config")}
	in, answers := io.Pipe()
	out := &lineReader{lines: make(chan []byte, 1<<10)}
	var complaints bytes.Buffer
	code := make(chan int, 1)
	go func() {
		code <- run(append([]string{"dial", "--lines", "--json"}, args...), world{in: in, out: out, err: &complaints,
			now: func() time.Time { return at }, getenv: func(name string) string { return folders[name] }})
		in.Close()
		close(out.lines)
	}()
	for text := range out.lines {
		var q toldQuestion
		if err := json.Unmarshal(text, &q); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		switch {
		case q.Say == "question":
			asked = append(asked, q)
			fmt.Fprintln(answers, answer(&q))
		case first == "":
			if first = q.Say; q.Say == "refused" {
				t.Errorf("%s is refused: %s", asked[len(asked)-1].Key, q.Because)
			}
			fmt.Fprintln(answers, "quit")
		}
	}
	if c := <-code; c != 0 {
		t.Fatalf("trammel dial %q: exit code %d: %s", args, c, complaints.String())
	}
	return asked, first
}

// With the help's own job file every arc of the plate can be set up by answers alone: one after the other, the ring of 60 stays
// where it is, the tip is set so that the dial reads zero, and what was answered before is there for Enter. A sweep in that ring
// then reads zero at the target: by hand, reach = 30 - swing radius.
func TestPlateSetUpByAnswers(t *testing.T) {
	drawing := filepath.Join("..", "..", "testdata", "drawing", "quadrant-plate.dxf")
	flags := []string{"--layer", "rim", "--layer", "slot", "--layer", "bore", "--metal", "boss=inside", "--cutter", "6", "--cutter", "10",
		"--datum=-52,-52"}
	home := t.TempDir()
	job, machine := filepath.Join(home, "job.toml"), filepath.Join(home, "machine.toml")
	for name, text := range map[string][]byte{job: shownJobFile(t), machine: practice.BenchMachine} {
		if err := os.WriteFile(name, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	p := tellPlan(t, append(slices.Clone(flags), drawing)...)
	at := time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)
	found, opened, rings, lone := math.NaN(), 0, 0, 0
	for _, a := range p.Arcs {
		reach := 30 - *a.Swing
		at = at.Add(time.Minute)
		journal := filepath.Join(home, "data", "trammel", fmt.Sprintf("%02d.jsonl", a.N))
		if err := os.MkdirAll(filepath.Dir(journal), 0o700); err != nil {
			t.Fatal(err)
		}
		asked, first := answering(t, home, at, func(q *toldQuestion) string {
			switch q.Key {
			case "rings":
				rings++
				return "60 40"
			case "setup.reach":
				if q.ZeroAt == nil || math.Abs(*q.ZeroAt-reach) > 1e-9 {
					t.Errorf("arc %d: zero at %v, want %v", a.N, q.ZeroAt, reach)
				}
				if near := math.Abs(found-reach) <= 0.8; near != (q.Default != nil) { // the dial shows ±0.8
					t.Errorf("arc %d: proposed %v, with %v found before and %v for zero", a.N, q.Default, found, reach)
				}
				return fmt.Sprint(reach)
			case "setup.reach_error":
				return "caliper"
			case "swept_here":
				lone++ // the slot's two ends and the rim's four corners: nothing is drawn about their centres
				if q.Default != nil {
					t.Errorf("arc %d: Enter takes %v where nothing is drawn", a.N, q.Default)
				}
				return "yes"
			}
			return ""
		}, append([]string{"--job", job, "--machine", machine, "--journal", journal, "--drawing", drawing, "--arc", fmt.Sprint(a.N)},
			flags...)...)
		if first != "load" {
			t.Errorf("arc %d: the session begins with %q, want its first load", a.N, first)
			continue
		}
		opened++
		var keys []string
		for _, q := range asked {
			keys = append(keys, strings.TrimPrefix(q.Key, "setup."))
		}
		want := "touch reference_radius reference_radius_error reference_form_error reach reach_error"
		if got := strings.NewReplacer("rings ", "", "swept_here ", "").Replace(strings.Join(keys, " ")); got != want {
			t.Errorf("arc %d: asked for %s, want %s", a.N, got, want)
		}
		found = reach
		text, err := os.ReadFile(journal)
		if err != nil {
			t.Fatal(err)
		}
		for _, kept := range []string{fmt.Sprintf(`"reference_radius":30,"reach":%v,"reach_known":true`, reach), `"reach_limit":0.05`,
			fmt.Sprintf(`"swing_radius":%v,"tolerance":0.02`, *a.Swing)} {
			if !bytes.Contains(text, []byte(kept)) {
				t.Errorf("arc %d: the opening does not hold %s:\n%.900s", a.N, kept, text)
			}
		}
	}
	if opened != 11 || rings != 1 || lone != 6 {
		t.Errorf("%d of 11 arcs can be set up, rings are asked for %d times, what is swept of %d arcs; want 11, once, and of 6", opened,
			rings, lone)
	}
	if text, err := os.ReadFile(filepath.Join(home, "config", "trammel", "config.toml")); string(text) != "rings = [60, 40]\n" {
		t.Errorf("the settings are %q, %v", text, err)
	}
}
