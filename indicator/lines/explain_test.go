package lines_test

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// question is a state with what it asks.
type question struct {
	s session.State
	p session.Prompt
}

// questions are all kinds of question: those of the golden journals, those of every set-up played with all steps, and those
// that neither has.
func questions(t *testing.T) (all []question) {
	t.Helper()
	add := func(s session.State) { all = append(all, question{s, s.Prompt()}) }
	files, err := filepath.Glob("../../testdata/journal/*.jsonl")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d journals, %v", len(files), err)
	}
	for _, f := range files {
		for _, st := range replay(t, filepath.Base(f)) {
			if _, ok := st.Asks(); ok {
				add(st.After)
			}
		}
	}
	kinds := []practice.Setup{practice.Carried, practice.Turned, practice.Taps, practice.SetOff, practice.Points, practice.About}
	for i, c := range append(kinds, practice.Carried, practice.Carried, practice.Carried, practice.Carried, practice.Turned) {
		job, machine := c.Files()
		o := testdata.Setting(t, job, machine)
		if i == len(kinds) { // without a reach
			o.Job.Setup.ReachKnown, o.Job.Target.Trial = false, true
		}
		if i == len(kinds)+2 { // in passes
			o.Job.Cut.Depth, o.Job.Cut.Step, o.Job.Cut.Spring = 6, 2, true
		}
		if i > len(kinds)+2 { // between stops
			p := testdata.Plate(t, part.Options{Cutters: []float64{6}, Rotary: c == practice.Turned})
			if o.Arc, err = part.Pick(p, 4, "plate"); err != nil {
				t.Fatal(err)
			}
			o.Machine.Head.Graduation, o.Machine.Table.Graduation = 0.0175, 0.0175
		}
		for k := range o.Machine.Slides {
			o.Machine.Slides[k].Keeps, o.Machine.Slides[k].ByCollar = i > len(kinds), i > len(kinds)
		}
		o.Job.Setup.Taps = setup.Taps(&o.Job, &o.Machine)
		o.Steps, o.Order, o.Machine.HeadLock = true, 1, true
		m, live := practice.New(c.Bench(1), 1), session.NewLive(session.State{}, &session.Memory{})
		do := func(c session.Command) {
			steps, err := live.Do(c, time.Time{})
			if err != nil {
				t.Fatal(err)
			}
			for _, st := range steps {
				if _, ok := st.Asks(); ok {
					add(st.After)
				}
			}
		}
		do(session.Open{Opened: o})
		for again := c == practice.SetOff || c == practice.About; ; {
			st := live.State()
			answer, ok, err := m.Do(st.Prompt())
			if err != nil {
				t.Fatal(err)
			}
			if !ok {
				break
			}
			if again && st.Phase == session.SettledDown { // sweeps again, back over the axis first
				again, answer = false, session.Restart{}
			}
			do(answer)
		}
	}
	off := begin(t, bench(t, nil)).loaded()
	for s := off.live.State(); s.Phase == session.Sweeping && s.Prompt().Waits == session.ForReading; s = off.live.State() {
		off.do(session.Skip{Off: session.Free})
	}
	add(off.live.State())
	w := practice.Carried.Bench(1)
	w.Start.Swing, w.Start.CentreX = 42.9, 0.9
	m, coarse := practice.New(w, 1), begin(t, bench(t, nil))
	for s := coarse.live.State(); !s.Prompt().Reading.Between; s = coarse.live.State() {
		answer, ok, err := m.Do(s.Prompt())
		if err != nil || !ok {
			t.Fatalf("phase %d: nothing was read between two winds (%v)", s.Phase, err)
		}
		coarse.do(answer)
	}
	add(coarse.live.State())
	stuck := begin(t, bench(t, func(o *session.Opened) { o.Job.Dial.From, o.Job.Dial.To, o.Job.Sweep = 0, 0, threeOnAPart })).loaded()
	add(stuck.do(session.Take{Reading: 50}, session.Take{Reading: -25}, session.Take{Reading: -25}, session.Take{Reading: 25},
		session.Take{Reading: -50}, session.Take{Reading: 25}).live.State())
	tight := begin(t, bench(t, func(o *session.Opened) { o.Job.Target.Tolerance, o.Job.Target.CentreTolerance = 0.003, 0.003 })).loaded()
	for n := 0; tight.live.State().Phase == session.Sweeping && n < 40; n++ {
		tight.do(session.Take{Reading: []float64{0.002, -0.002, 0, 0.004, -0.004, 0.002}[n%6]})
	}
	add(tight.live.State())
	for _, q := range slices.Clone(all) {
		if q.p.Waits == session.ForCheck { // where no check of a sign would tell more
			q.p.Check.Plan.Slide = ""
			all = append(all, q)
		}
		if q.p.Chore.Step == session.SetStops { // ahead of a later sweep they are backed off
			q.p.Chore.Step = session.StopsOff
			all = append(all, q)
			q.p.Chore.Step = session.TouchTop // once the cutter has been out
			all = append(all, q)
		}
		if q.p.Chore.Step == session.RockAgain { // in a later trial, for the winds of the one before
			q.s.Trial = 2
			all = append(all, q)
		}
	}
	return append(all, question{})
}

// Whatever is asked has an explanation of its own: a few whole sentences, in words to type and in keys to press. None names
// what is not there, and all rows of the tables are come by.
func TestEveryQuestionIsExplained(t *testing.T) {
	seen := map[string]int{}
	for _, q := range questions(t) {
		for _, sp := range []lines.Speech{{}, {Keys: true}, {Keys: true, Shown: true}, {Keys: true, Needle: true}} {
			what, sentences := lines.Explained(&q.s, &q.p, sp)
			seen[what] = max(seen[what], len(sentences))
			if n := len(sentences); n < 2 || n > 6 {
				t.Errorf("%s: %d sentences, want two to six", what, n)
			}
			for _, said := range sentences {
				first, end := said[:1], said[len(said)-1:]
				if strings.ContainsAny(said, "{}%") || !strings.Contains(".?", end) || first != strings.ToUpper(first) {
					t.Errorf("%s: no whole sentence: %q", what, said)
				}
			}
			if l := lines.Help(&q.s, &q.p); !strings.HasPrefix(l.Text(), what+". ") {
				t.Errorf("%s: said as %q", what, l.Text())
			}
		}
	}
	of, says := lines.Explanations()
	for i, what := range of {
		if seen[what] < len(says[i]) {
			t.Errorf("%q: %d sentences of %d were said, need all at some time", what, seen[what], len(says[i]))
		}
		for j := range i {
			if of[j] == what || strings.Join(says[i], " ") == strings.Join(says[j], " ") {
				t.Errorf("%q and %q are explained alike", of[j], what)
			}
		}
	}
}

// What an explanation puts in quotes is typed like that, and what it says of the list of all that can be done stands there.
func TestExplanationsNameWordsThatCanBeTyped(t *testing.T) {
	quoted := regexp.MustCompile(`"([^"]*)"`)
	typed := map[string]bool{"quit": true}
	for _, r := range session.Commands() {
		if r.Word != "" {
			typed[r.Word] = true
		}
	}
	named := map[string]bool{}
	for _, q := range questions(t) {
		what, sentences := lines.Explained(&q.s, &q.p, lines.Speech{})
		for _, m := range quoted.FindAllStringSubmatch(strings.Join(sentences, " "), -1) {
			word := strings.Fields(m[1])[0]
			if named[word] = true; !typed[word] {
				t.Errorf("%s: %q is nothing that can be typed", what, m[1])
			}
		}
	}
	for _, word := range []string{"done", "undo", "off", "skip", "enough", "keep", "accept", "again", "even", "restate", "station",
		"stopped", "height", "chord", "quit"} {
		if !named[word] {
			t.Errorf("no explanation names %s", word)
		}
	}
}

// The words are told in the order of the alphabet, none twice, each in one or two sentences, none by itself alone.
func TestWords(t *testing.T) {
	for i, w := range lines.Words {
		if i > 0 && lines.Words[i-1].Name >= w.Name {
			t.Errorf("%q stands behind %q", w.Name, lines.Words[i-1].Name)
		}
		if n := strings.Count(w.Means, ". ") + 1; n > 3 || !strings.HasSuffix(w.Means, ".") || strings.Contains(w.Means, "  ") {
			t.Errorf("%s: %d sentences: %q", w.Name, n, w.Means)
		}
	}
	// Those that the screens and sheets say most, by hand.
	for _, name := range []string{"reach", "reference", "swing radius", "offset slide", "wind", "take-up", "backlash", "turning point",
		"parked reading", "station", "bearing", "ring", "collar", "sweep", "trial", "settled", "inside", "undecided", "stated",
		"assumed exact", "stop", "blend"} {
		if !slices.ContainsFunc(lines.Words, func(w lines.Word) bool { return w.Name == name }) {
			t.Errorf("no word says what %q means", name)
		}
	}
	text := strings.Split(lines.WordsText(), "\n")
	for _, w := range lines.Words {
		if !slices.Contains(text, "- "+w.Text()) {
			t.Errorf("%q does not stand in the text", w.Name)
		}
	}
}
