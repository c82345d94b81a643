package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"strings"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/tui"
)

// start is the start page, and the pages behind it. What they lead to is carried out by the verbs.
type start struct {
	w     world // with what the verbs say caught
	c     *common
	m     manner
	all   []record.Journal // the sessions of the data folder as the start page was drawn
	said  bytes.Buffer     // what was said of what was done last
	wrong bool             // it went wrong
}

// startRow is a line of a page: what it says, what Enter alone is called where it stands first, and what it does.
type startRow struct {
	words, takes string
	when         func(*start) bool // nil where it is always there
	do           func(*start) error
}

// startVerb is the program without a verb: on a terminal the start page, else practice played through.
func startVerb(w world, c *common) error {
	if !w.terminal || c.json {
		return practiceVerb(w, c, practiceFlags{})
	}
	s := &start{c: c}
	return onScreen(w, &s.m, func(w world) error {
		s.w = w
		s.w.out, s.w.err = io.MultiWriter(w.out, &s.said), io.MultiWriter(w.err, &s.said)
		return s.menu("trammel: a swing radius and its centre, from readings to handwheel winds", "leave", s.rows)
	})
}

// rows are those of the start page. The first is what Enter alone does: it goes on with the open session worked on last, else
// with the questions that were begun, the next arc or the next part, else it practises. Behind it stands what is always there, so
// that its numbers stay; what comes and goes stands last.
func (s *start) rows() ([]startRow, error) {
	var err error
	if _, s.all, err = allSessions(s.w); err != nil {
		return nil, err
	}
	all := inTurn(s.all, (*record.Journal).Unfinished)
	var first startRow
	always, rest, begun := startRows, lastRows, s.begun()
	switch {
	case len(all) > 0:
		first, all = s.goesOn(&all[0]), all[1:]
	case len(begun) > 0:
		first, begun = begun[0], begun[1:]
	case s.lastArc() != nil:
		first, rest = planRow, lastRows
	case s.accepted():
		first, rest = nextPartRow, []startRow{lastRows[0], samePartRow}
	default:
		first, always = practiceRow, startRows[:len(startRows)-1] // which ends with it
	}
	out := append([]startRow{first}, always...)
	for _, r := range rest {
		if r.when == nil || r.when(s) {
			out = append(out, r)
		}
	}
	out = append(append(out, practiceGaugeRow), begun...)
	n := min(len(all), mostOpen-1)
	for i := range all[:n] {
		out = append(out, s.goesOn(&all[i]))
	}
	if others := all[n:]; len(others) > 0 {
		out = append(out, startRow{words: fmt.Sprintf("another open session, %d of them", len(others)), takes: "another",
			do: func(s *start) error { return s.another(others) }})
	}
	return out, nil
}

// mostOpen bounds the open sessions on the start page; the others have a page of their own.
const mostOpen = 3

// Of the lines of the start page startRows are always there, behind the first, and lastRows where there is something to do it with;
// practiceGaugeRow stands behind them, always.
var (
	practiceRow = startRow{words: "practice, by lessons or without, on a simulated machine that has backlash", takes: "practice",
		do: (*start).practice}
	practiceGaugeRow = startRow{words: "practice with a cable indicator: its needle moves as the arrow keys wind", takes: "practice",
		do: (*start).practiceGauge}
	nextPartRow = startRow{words: "the next part, set as the one before was", takes: "next part", when: (*start).accepted,
		do: (*start).nextPart}
	samePartRow = startRow{words: "the next part on the setting as it was left: the radius is carried over", takes: "next part",
		when: (*start).accepted, do: (*start).samePart}
	planRow   = startRow{words: "the next arc of the drawing, on its plan", takes: "next arc", do: (*start).nextArc}
	startRows = []startRow{
		{words: "a new setting: bring a swing radius, or a centre, in", takes: "new setting", do: (*start).setting},
		{words: arcsWords, takes: "arcs", do: (*start).arcs},
		{words: "machines: what is stated of each, and a new one", takes: "machines", do: (*start).machines},
		practiceRow,
	}
	lastRows = []startRow{
		{words: "see a session again, or write its report", takes: "again", when: (*start).recorded, do: (*start).again},
		nextPartRow,
		samePartRow,
	}
)

// goesOn is the line of a session that is open.
func (s *start) goesOn(l *record.Journal) startRow {
	path := l.Path
	return startRow{words: "go on with " + s.stands(l), takes: "go on", do: func(s *start) error { return s.resume(path) }}
}

// stands says of a session what it is for, what it has reached, and when it was worked on.
func (s *start) stands(l *record.Journal) string {
	st := &l.State
	far := "only opened, nothing is entered"
	switch {
	case st.Phase == session.Cutting:
		far = record.AcceptedWords(st) + ", the steps up to the checked arc are to come"
	case l.Begun():
		far = record.StandsWords(st)
	}
	if by, writes, err := journal.Writer(l.Path); err == nil && writes {
		far += "; " + cmp.Or(by, "another program") + " writes it, look on only"
	}
	return fmt.Sprintf("%s on %s: %s; last entry %s, %s", setWords(st.Set), st.Set.Machine.Name, far, s.day(l), l.Name)
}

const arcsWords = "the arcs of a drawing, one after the other"

// setWords say what a setting is for: swing 42 mm; of a drawing's arc which one: arc 1 of quadrant-plate, swing 19 mm.
func setWords(set *session.Opened) string {
	words := targetWords(&set.Job)
	if a := set.Arc; a != nil {
		words = fmt.Sprintf("arc %d of %s, %s", a.N, a.Part, words)
	}
	return words
}

// targetWords say what a job is for: swing 42 mm.
func targetWords(j *setup.Job) string {
	t := strings.TrimPrefix(targetName(j), "-")
	if n, ok := strings.CutSuffix(t, j.Unit.String()); ok && j.Target.WantsSwing() {
		return "swing " + n + " " + j.Unit.String()
	}
	return t
}

func (s *start) day(l *record.Journal) string {
	return l.Last.In(s.w.now().Location()).Format("2006-01-02 15:04")
}

func (s *start) resume(path string) error {
	err := dialVerb(s.w, s.c, &dialFlags{resume: true, journal: path, manner: s.m, arcFlags: newArcFlags()})
	if err != nil {
		return err
	}
	return s.toPlan(path)
}

// another goes on with one of the sessions that have no line of their own.
func (s *start) another(rest []record.Journal) error {
	var words []string
	for i := range rest {
		words = append(words, s.stands(&rest[i]))
	}
	n, _, err := s.pick("which session goes on", "go on", words, false)
	if err != nil || n == 0 {
		return err
	}
	return s.resume(rest[n-1].Path)
}

func (s *start) practiceGauge() error {
	return practiceVerb(s.w, s.c, practiceFlags{manner: s.m, gauge: true})
}

// menu shows a page until it is left, and carries out what is chosen; what that said stands there then.
func (s *start) menu(title, leaves string, rows func() ([]startRow, error)) error {
	for {
		all, err := rows()
		if err != nil {
			return err
		}
		var words []string
		for _, r := range all {
			words = append(words, r.words)
		}
		n, err := s.ask(tui.OpenConfig{Title: title, Answers: append(words, leaves), Takes: all[0].takes, Leaves: leaves, Said: s.told(),
			Alarm: s.wrong})
		if err != nil || n == 0 || n > len(all) {
			return err
		}
		s.said.Reset()
		s.wrong = false
		if err := all[n-1].do(s); err != nil {
			s.wrong = true
			tellErrors(s.w, err)
		}
		if s.w.screen.ctx.Err() != nil {
			return nil // told to end
		}
	}
}

// told is what was said of what was done last, line by line.
func (s *start) told() (out []string) {
	for _, line := range strings.Split(s.said.String(), "\n") {
		if line = strings.TrimRight(strings.TrimPrefix(line, "trammel: "), " "); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// ask shows a page of numbered answers, and returns the number of the one that is taken, 0 for none.
func (s *start) ask(c tui.OpenConfig) (int, error) {
	n, _, err := s.show(c)
	return n, err
}

// show is ask where a name may be typed too.
func (s *start) show(c tui.OpenConfig) (n int, name string, err error) {
	t := s.w.screen
	c.Now, c.Plain, c.In, c.Out, c.Shell, c.Topics = s.w.now, s.m.plainly(s.w), t.in, t.out, t.shell, helpTopics()
	return tui.Pick(t.ctx, c)
}

// pick asks for one of some answers behind the start page; names says that a file's name may be typed in their place.
func (s *start) pick(title, takes string, answers []string, names bool) (n int, name string, err error) {
	return s.show(tui.OpenConfig{Title: title, Answers: answers, Takes: takes, Leaves: "back", Names: names, Said: s.told(),
		Alarm: s.wrong})
}
