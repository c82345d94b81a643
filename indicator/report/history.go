package report

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// Journal is a journal's events with its name.
type Journal struct {
	Name   string
	Events []session.Record
}

// History is what a machine has taught over several sessions, in the order of time.
type History struct {
	Machine string
	Unit    geom.Unit
	Slides  []SlideHistory
}

// SlideHistory is one slide's: a row for everything that it has taught.
type SlideHistory struct {
	Slide string
	Unit  geom.Unit
	Rows  []Learnt
}

// Learnt is one thing that a slide has taught, and what is believed since: where it comes from can be
// looked up in the journal, at the event.
type Learnt struct {
	At               time.Time
	Journal          string
	Event, Trial     int
	Seen             string
	Gain, Play, Lock string
	play, lock, gain indicator.Value
	sorted           time.Time // At; where the clock was put back meanwhile, that of the row before it in its journal
}

// Date is the day of a row.
func (l Learnt) Date() string { return l.At.Format("2006-01-02") }

// HistoryOf follows what a machine has taught through journals; an empty machine stands for that of the
// first setting. Settings of other machines are passed over.
func HistoryOf(machine string, journals []Journal, u geom.Unit) History {
	h := History{Machine: machine, Unit: u}
	for _, j := range journals {
		var s session.State
		for _, r := range j.Events {
			before := s
			s = s.Apply(r.Event)
			o, opens := r.Event.(session.Opened)
			if opens && h.Machine == "" {
				h.Machine = o.Machine.Name
			}
			if s.Set == nil || opens || s.Set.Machine.Name != h.Machine {
				continue // what an opening brings along was learnt elsewhere
			}
			h.learn(geom.PrintableLine(j.Name), r, &before, &s)
		}
	}
	for i := range h.Slides {
		slices.SortStableFunc(h.Slides[i].Rows, func(a, b Learnt) int { return a.sorted.Compare(b.sorted) })
	}
	slices.SortStableFunc(h.Slides, func(a, b SlideHistory) int { return cmp.Compare(a.Slide, b.Slide) })
	return h
}

// learn adds a row for every slide that a step has taught something of.
func (h *History) learn(journal string, r session.Record, before, after *session.State) {
	for _, l := range after.Lessons {
		var was slide.Lesson
		for _, x := range before.Lessons {
			if x.Slide == l.Slide {
				was = x.Lesson
			}
		}
		seen := h.seen(was, l.Lesson)
		if seen == "" {
			continue
		}
		row := Learnt{At: r.T, sorted: r.T, Journal: journal, Event: r.N, Trial: after.Trial, Seen: seen, Gain: "–", Play: "–", Lock: "–"}
		none := indicator.Value{V: nan, U: nan}
		row.gain, row.play, row.lock = none, none, none
		if b := l.Lesson; len(b.Radii)+len(b.Travels) > 0 {
			row.gain = b.Posterior().Gain()
			row.Gain = record.ScrewError(row.gain)
		}
		if len(l.Lesson.Reversals) > 0 {
			row.play = l.Lesson.Backlash()
			row.Play = record.Measured(h.Unit, row.play)
		}
		if len(l.Lesson.Locks) > 0 {
			row.lock = l.Lesson.LockShift().Mean
			row.Lock = record.Measured(h.Unit, row.lock)
		}
		i := slices.IndexFunc(h.Slides, func(x SlideHistory) bool { return x.Slide == l.Slide })
		if i < 0 {
			h.Slides = append(h.Slides, SlideHistory{Slide: l.Slide, Unit: h.Unit})
			i = len(h.Slides) - 1
		}
		rows := h.Slides[i].Rows
		if last := len(rows) - 1; last >= 0 && rows[last].Journal == journal && rows[last].sorted.After(r.T) {
			row.sorted = rows[last].sorted
		}
		h.Slides[i].Rows = append(rows, row)
	}
}

// seen says what is new between two lessons.
func (h *History) seen(was, now slide.Lesson) string {
	var out []string
	length := func(mm float64) string {
		return geom.FormatSigned(h.Unit.From(mm), geom.Places(0, h.Unit)) + " " + h.Unit.String()
	}
	if n := len(now.Radii); n > len(was.Radii) {
		out = append(out, "radius "+strings.TrimPrefix(length(now.Radii[n-1].R), "+"))
	}
	if n := len(now.Travels); n > len(was.Travels) {
		out = append(out, "travel "+length(now.Travels[n-1].Moved)+" for "+length(now.Travels[n-1].Turned))
	}
	if n := len(now.Reversals); n > len(was.Reversals) {
		out = append(out, "backlash "+length(now.Reversals[n-1].Turned))
	}
	if n := len(now.Locks); n > len(was.Locks) {
		out = append(out, "lock "+length(now.Locks[n-1].Moved))
	}
	if now.Origin > was.Origin {
		out = append(out, "origin lost")
	}
	return strings.Join(out, ", ")
}

// Pictures draw how the values went.
func (s *SlideHistory) Pictures() (out []template.HTML) {
	draw := func(title string, u geom.Unit, of func(Learnt) indicator.Value) {
		var all []point
		for _, r := range s.Rows {
			if v := of(r); v.Known() {
				all = append(all, point{name: r.At.Format("01-02"), v: v})
			}
		}
		if len(all) > 1 {
			out = append(out, course(title, all, 0, u))
		}
	}
	draw("backlash", s.Unit, func(l Learnt) indicator.Value { return l.play })
	draw("what a lock moves", s.Unit, func(l Learnt) indicator.Value { return l.lock })
	draw("screw error in 100 mm", geom.Millimetre, func(l Learnt) indicator.Value {
		return indicator.Value{V: 100 * (l.gain.V - 1), U: 100 * l.gain.U}
	})
	return out
}

// Text is the history for a terminal.
func (h *History) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "machine %s\n", h.Machine)
	for _, s := range h.Slides {
		fmt.Fprintf(&b, "\n%s slide\n", s.Slide)
		for _, r := range s.Rows {
			fmt.Fprintf(&b, "  %s  %s, event %d, trial %d: %s; screw error %s, backlash %s, lock moves it %s\n", r.Date(), r.Journal,
				r.Event, r.Trial, r.Seen, r.Gain, r.Play, r.Lock)
		}
	}
	if len(h.Slides) == 0 {
		b.WriteString("nothing learnt yet\n")
	}
	return b.String()
}
