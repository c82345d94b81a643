package pane

import (
	"fmt"
	"strings"
	"time"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/theme"
)

// Moment is one event of a journal, and where it stands in it.
type Moment struct {
	N, Of int // from 1
	At    time.Time
	Since time.Duration // since the event before
	Said  string        // the event in words
	// Marks are the events on the line of time that are worth a jump, by number: where a trial begins,
	// where a reading was a surprise, and where one was that fits its sweep as that ended, where a setting was accepted.
	Trials, Surprises, Overtaken, Accepted []int
	Playing                                bool
	Speed                                  int
	// Changed are the events whose readings a what-if changes.
	Changed []int
}

// Timeline is the bottom zone of a replay: which event this is, when it was, what happened, and where
// that stands in the whole.
func Timeline(v *View, m *Moment, w, h int) string {
	t := v.Theme
	when := m.At.Format("2006-01-02 15:04:05")
	if m.N > 1 {
		when += fmt.Sprintf("  +%v", m.Since.Round(time.Second))
	}
	pace := fmt.Sprintf("%s%d", t.Glyphs.Times, m.Speed)
	if m.Playing {
		pace = "plays " + pace
	}
	where := fmt.Sprintf("event %d of %d", m.N, m.Of)
	head := first(w, []string{where + "  " + when + "  " + pace, where + "  " + m.At.Format("15:04:05"), where})
	said := wrap(v.Num(v.text(m.Said)), w, 2)
	for i := range said {
		said[i] = t.Big.Render(Clip(t, said[i], w))
	}
	if h <= 1 {
		return Box(t, head, w, h)
	}
	foot := append([]string{scale(v, m, w)}, statusLines(v, w, max(1, h-len(said)-2))...)
	if h < 5 {
		foot = foot[1:]
	}
	if v.Note != "" || v.Status != "" || h >= 4 {
		rows := append([]string{head}, said[:min(len(said), max(0, h-1-len(foot)))]...)
		for len(rows) < h-len(foot) {
			rows = append(rows, "")
		}
		return Box(t, strings.Join(append(rows, foot...), "\n"), w, h)
	}
	return Box(t, strings.Join(append([]string{head}, said...), "\n"), w, h)
}

// timeMark is a sign on the line of time.
type timeMark struct {
	sign  func(theme.Theme) string
	style func(theme.Theme) lipgloss.Style
	of    func(*Moment) []int
	means string
}

// timeMarks are the signs, each drawn over those before it.
var timeMarks = []timeMark{
	{always("|"), dimly, func(m *Moment) []int { return m.Trials }, "a trial begins"},
	{always("'"), dimly, func(m *Moment) []int { return m.Overtaken },
		"a reading was a surprise when it came, and fits its sweep as that ended"},
	{always("?"), func(t theme.Theme) lipgloss.Style { return t.Doubt }, func(m *Moment) []int { return m.Surprises },
		"a reading came otherwise than those before it foretold"},
	{always("="), func(t theme.Theme) lipgloss.Style { return t.Good }, func(m *Moment) []int { return m.Accepted },
		"a setting was accepted"},
	{always("~"), func(t theme.Theme) lipgloss.Style { return t.Strong }, func(m *Moment) []int { return m.Changed },
		"a reading that your what-if changes"},
	{func(t theme.Theme) string { return t.Glyphs.RightMark }, func(t theme.Theme) lipgloss.Style { return t.Now },
		func(m *Moment) []int { return []int{m.N} }, "the event that is shown"},
}

// listMarks are what may stand behind a station.
var listMarks = []struct {
	sign  func(theme.Theme) string
	means string
}{
	{func(t theme.Theme) string { return t.Glyphs.Query }, "it came otherwise than expected"},
	{func(t theme.Theme) string { return wasQuery(t) }, "so it seemed when it came; the sweep as it ended bears it out"},
	{always("kept"), "it was in doubt, looked at again, and left to stand"},
	{always("left out"), "no reading was taken there"},
}

func always(sign string) func(theme.Theme) string { return func(theme.Theme) string { return sign } }

func dimly(t theme.Theme) lipgloss.Style { return t.Dim }

// scale draws the events as a line with their marks. A long journal has far more marks than cells, so each cell is drawn once,
// with the last mark that falls on it: with every mark drawn, 20 000 events took 10 ms a step.
func scale(v *View, m *Moment, w int) string {
	t := v.Theme
	marks := make([]*timeMark, max(1, w))
	for i := range timeMarks {
		x := &timeMarks[i]
		if ansi.StringWidth(x.sign(t)) != 1 {
			continue
		}
		for _, n := range x.of(m) {
			if at := (n - 1) * (len(marks) - 1) / max(1, m.Of-1); n >= 1 && at < len(marks) {
				marks[at] = x
			}
		}
	}
	var out strings.Builder
	rule := t.Rule.Render(t.Glyphs.Rule)
	for _, x := range marks {
		if x == nil {
			out.WriteString(rule)
			continue
		}
		out.WriteString(x.style(t).Render(x.sign(t)))
	}
	return out.String()
}

// Tried is the page of a what-if: the sweep as it went beside the sweep as it would have gone.
func Tried(v *View, x *session.WhatIf, changes []string, w, h int) string {
	t := v.Theme
	out := []string{t.Strong.Render("what if")}
	for _, c := range changes {
		out = append(out, wrap("  "+v.Num(v.text(c)), w, 4)...)
	}
	out = append(out, "", t.Now.Render("as it went"))
	out = append(out, outcome(v, &x.As, x.Told, w)...)
	out = append(out, "", t.Now.Render("as it would have gone"))
	out = append(out, outcome(v, &x.Now, x.WouldTell, w)...)
	if x.Why != "" {
		out = append(out, wrapped(t.Doubt, v.text(x.Why), w)...)
	}
	if len(out) > h { // without the blank lines
		short := out[:0:0]
		for _, l := range out {
			if l != "" {
				short = append(short, l)
			}
		}
		out = short
	}
	return Box(t, strings.Join(out, "\n"), w, h)
}

// outcome is what a sweep says, and the winds that came of it.
func outcome(v *View, s *session.State, told []session.Told, w int) []string {
	f, err := s.Fit()
	if err != nil {
		return wrap("  no circle: "+v.text(err.Error()), w, 4)
	}
	verdicts := s.Verdicts(&f)
	var out []string
	if r, ok := s.Swing(&f); ok {
		out = append(out, "  swing "+v.measured(r)+"  "+v.verdict(verdicts.Radius))
	}
	if s.SetUp().Does().Away {
		f, _ = s.Standing(&f)
	}
	out = append(out, "  centre off "+v.measured(f.Offset())+"  "+v.verdict(verdicts.Centre),
		fmt.Sprintf("  X %s  Y %s %v", v.bare(f.CentreX()), v.bare(f.CentreY()), v.unit()))
	var winds []string
	for _, x := range told {
		winds = append(winds, fmt.Sprintf("%s %s", SlideName(x.Wind.Slide),
			v.Num(geom.FormatSigned(v.unit().From(x.Wind.Travel), geom.Places(0, v.unit())))))
	}
	if len(winds) == 0 {
		return append(out, "  no wind")
	}
	return append(out, wrap("  winds "+strings.Join(winds, ", ")+" "+v.unit().String(), w, 4)...)
}

// NotesPage is the page of the notes up to an event, the newest last.
func NotesPage(v *View, notes []string, w, h int) string {
	out := []string{v.Theme.Strong.Render("notes")}
	for _, n := range notes {
		out = append(out, wrap(v.text(n), w, 4)...)
	}
	return Box(v.Theme, strings.Join(tail(out, h), "\n"), w, h)
}
