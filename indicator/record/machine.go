package record

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

type (
	// MachineLine tells of a machine that is known by name. Lengths are in its unit.
	MachineLine struct {
		Say    string      `json:"say"`
		Name   string      `json:"name"`
		File   string      `json:"file"`
		Unit   geom.Unit   `json:"unit"`
		Slides []SlideLine `json:"slides"`
		Head   RingLine    `json:"head"`
		Table  RingLine    `json:"table"`
		// Handwheel is the table's own, left out where none is stated.
		Handwheel *HandwheelLine `json:"handwheel,omitempty"`
		Gauge     *Cabled        `json:"gauge,omitempty"` // left out where nothing is stated of a cable indicator
		// Wrong is what is wrong with the file, by file and line; empty where nothing is.
		Wrong string `json:"wrong"`

		whole bool
	}
	// SlideLine is what the file says of a slide.
	SlideLine struct {
		Slide         string     `json:"slide"`
		TravelPerTurn Number     `json:"travel_per_turn"`
		Divisions     Number     `json:"divisions"`
		Clockwise     slide.Way  `json:"clockwise"`
		TakeUp        slide.Way  `json:"take_up"`
		Backlash      Number     `json:"backlash"`
		BacklashError *Number    `json:"backlash_error,omitempty"` // left out where nobody has said how right it is
		Readout       bool       `json:"readout"`
		Lock          bool       `json:"lock"`
		Collar        string     `json:"collar,omitempty"` // keeps; empty where it is set to 0 for each wind
		Travel        *[2]Number `json:"travel"`           // null where its ends are not stated
	}
	// RingLine is what the file says of a ring that shows an angle: degrees.
	RingLine struct {
		Zero       Number     `json:"zero"`
		Sense      slide.Turn `json:"sense"`
		Graduation *Number    `json:"graduation"` // null where it is not known
	}
	// HandwheelLine is what the file says of a table's own handwheel: degrees of the table.
	HandwheelLine struct {
		Turn      Number    `json:"turn"`
		Clockwise slide.Way `json:"clockwise"`
		Divisions *Number   `json:"divisions"` // null where its collar is figured in degrees
		WormPlay  Number    `json:"worm_play"`
	}
)

// Machine tells of a machine by its name; whole with all its figures in the text too. wrong is what is wrong with its file.
func Machine(name, file string, m *setup.Machine, wrong string, whole bool) MachineLine {
	l := MachineLine{Say: "machine", Name: name, File: file, Unit: m.Unit, Slides: []SlideLine{}, Head: ringLine(m.Head),
		Table: ringLine(m.Table), Wrong: wrong, whole: whole}
	if h := m.Handwheel; h.Known() {
		l.Handwheel = &HandwheelLine{
			Turn:      planAngle(geom.Bearing(h.Turn)),
			Clockwise: h.Clockwise,
			WormPlay:  planAngle(geom.Bearing(h.Play)),
		}
		if h.Divisions > 0 {
			l.Handwheel.Divisions = numberOf(h.Divisions)
		}
	}
	at := func(mm float64) Number { return Number(m.Unit.From(mm)) }
	for _, s := range m.Slides {
		line := SlideLine{Slide: s.Name, TravelPerTurn: at(s.TravelPerTurn), Divisions: Number(s.Divisions), Clockwise: s.Clockwise,
			TakeUp: s.TakeUp, Backlash: at(s.Backlash), Readout: s.Readout, Lock: s.Lock}
		if s.Keeps {
			line.Collar = "keeps"
		}
		if s.BacklashLimit > 0 {
			line.BacklashError = numberOf(m.Unit.From(s.BacklashLimit))
		}
		if s.Low != s.High {
			line.Travel = &[2]Number{at(s.Low), at(s.High)}
		}
		l.Slides = append(l.Slides, line)
	}
	return l
}

func ringLine(r setup.Ring) RingLine {
	l := RingLine{Zero: Number(r.Zero.Degrees()), Sense: r.Figures}
	if r.Graduation > 0 {
		g := Number(geom.Bearing(r.Graduation).Degrees())
		l.Graduation = &g
	}
	return l
}

// Text is one line, or with all figures one for each slide and ring too.
func (l MachineLine) Text() string {
	if l.Wrong != "" {
		return geom.PrintableLine(l.Name + ": wrong: " + l.Wrong)
	}
	var names []string
	for _, s := range l.Slides {
		names = append(names, s.Slide)
	}
	out := geom.PrintableLine(fmt.Sprintf("%s: slides %s, figures in %v; %s", l.Name, strings.Join(names, " "), l.Unit, l.File))
	if !l.whole {
		return out
	}
	for i := range l.Slides {
		out += "\n  " + l.Slides[i].text(l.Unit)
	}
	out += "\n  head's ring: " + l.Head.text() + "\n  table's ring: " + l.Table.text()
	if l.Handwheel != nil {
		out += "\n  table's handwheel: " + l.Handwheel.text()
	}
	if l.Gauge != nil {
		out += "\n  cable indicator: " + l.Gauge.text(l.Unit)
	}
	return out
}

func (s *SlideLine) text(u geom.Unit) string {
	hand := func(w slide.Way) string {
		if w == s.Clockwise {
			return "clockwise"
		}
		return "anticlockwise"
	}
	out := fmt.Sprintf("%s: %v %v a turn, %v divisions; facing the handle, a turn clockwise lets its coordinate %v, and the last "+
		"movement is %s; backlash %v %v", s.Slide, exact(s.TravelPerTurn), u, exact(s.Divisions), s.Clockwise, hand(s.TakeUp),
		exact(s.Backlash), u)
	if s.BacklashError != nil {
		out += fmt.Sprintf(", within %v", exact(*s.BacklashError))
	}
	if s.Readout {
		out += "; with a readout"
	}
	if s.Collar != "" {
		out += "; its collar keeps its figures"
	}
	if s.Lock {
		out += "; clamped once it stands"
	}
	if s.Travel != nil {
		out += fmt.Sprintf("; travel from %v to %v %v", exact(s.Travel[0]), exact(s.Travel[1]), u)
	}
	return out
}

func (r *RingLine) text() string {
	out := fmt.Sprintf("shows 0 at %v°, its figures grow %v, seen from above", exact(r.Zero), r.Sense)
	if r.Graduation != nil {
		out += fmt.Sprintf(", a mark every %v°", exact(*r.Graduation))
	}
	return out
}

func (h *HandwheelLine) text() string {
	out := fmt.Sprintf("%v° a turn", exact(h.Turn))
	if h.Divisions != nil {
		out += fmt.Sprintf(", %v divisions", exact(*h.Divisions))
	}
	does := "grow"
	if h.Clockwise == slide.Decrease {
		does = "fall"
	}
	return out + fmt.Sprintf(
		"; facing the handle, a turn clockwise lets the ring's figures %s; worm backlash %v°",
		does,
		exact(h.WormPlay),
	)
}

// exact is a stated figure as it was stated: conversion leaves no tail of digits.
func exact(n Number) float64 { return RoundTo(float64(n), 9) }
