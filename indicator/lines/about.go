package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// AboutBudget is how the axis has come from the reference to an arc's centre about which there is nothing to sweep, and what
// the doubt of where it stands is made of, U95 each in its worst direction: the sweep of the reference, how far the slides have
// gone, the drawing's angle over the way, and how square the slides are. Reference and Centre are the drawing's, Angle degrees;
// Way is what each slide goes, and SweptAt where the sweep was taken by the slides' scales, null where one is not known.
type AboutBudget struct {
	Reference record.XY     `json:"reference_at"`
	Centre    record.XY     `json:"centre_at"`
	Angle     record.Number `json:"angle"`
	Way       []AboutWay    `json:"way"`
	SweptAt   *record.XY    `json:"swept_at"`
	Sweep     record.Number `json:"sweep_u95"`
	Slides    record.Number `json:"slides_u95"`
	Turned    record.Number `json:"angle_u95"`
	Square    record.Number `json:"square_u95"`
	far       float64
	unit      geom.Unit
}

// AboutWay is what a slide goes for it.
type AboutWay struct {
	Slide  string        `json:"slide"`
	Travel record.Number `json:"travel"`
}

// about puts that into a line, where the axis has been carried so; the sweep was fitted as f.
func (l *SettledLine) about(s *session.State, f *indicator.Estimate) {
	a, ok := s.Away(f)
	if !ok {
		return
	}
	u := l.unit
	b := aboutOf(&a, u)
	l.About = &b
}

func aboutOf(a *setup.Away, u geom.Unit) AboutBudget {
	length := func(mm float64) record.Number { return record.Number(u.From(mm)) }
	b := AboutBudget{Reference: *record.PlaceOf(a.Reference, u), Centre: *record.PlaceOf(a.About.Centre, u),
		Angle: record.Number(a.Angle.Degrees()), Way: []AboutWay{}, Sweep: length(a.Sweep), Slides: length(a.Slides),
		Turned: length(a.Turned), Square: length(a.Square), far: a.Way, unit: u}
	for i, name := range a.Names {
		b.Way = append(b.Way, AboutWay{name, length(a.Travel[i])})
	}
	if a.From != nil {
		b.SweptAt = record.PlaceOf(*a.From, u)
	}
	return b
}

// parts are what the doubt is made of, and what lessens each.
func (b *AboutBudget) parts() []aboutPart {
	return []aboutPart{
		{"sweep", b.Sweep, "the sweep of the reference", "more stations there, or a finer dial"},
		{"slides", b.Slides, "how far the slides have gone", "readouts on them, or slides tried over a known length " +
			"(setup.slide_error_per_100), would decide"},
		{"angle", b.Turned, "the drawing's angle over the way", "clock a longer edge, or a reference nearer to the arc"},
		{"square", b.Square, "how square the slides are", "try them with a square, or a reference nearer to the arc"},
	}
}

type aboutPart struct {
	name       string
	u          record.Number
	what, cure string
}

// words are a part's, or that nobody has stated it.
func (p *aboutPart) words(u geom.Unit) string {
	if p.u.Unknown() {
		return p.name + " not stated"
	}
	return fmt.Sprintf("%s ±%s %v", p.name, geom.FormatFixed(float64(p.u), geom.Places(float64(p.u), u)), u)
}

// place says where the axis stands.
func (b *AboutBudget) place() string {
	return fmt.Sprintf("at the arc's centre, %s %v from the reference", geom.FormatFixed(b.unit.From(b.far), geom.Places(0, b.unit)),
		b.unit)
}

// words tell the way and the parts, and what is largest where nothing is decided.
func (b *AboutBudget) words(v indicator.Verdict) string {
	t := b.place() + " ("
	var most aboutPart
	for i, p := range b.parts() {
		if i > 0 {
			t += ", "
		}
		t += p.words(b.unit)
		if p.u > most.u {
			most = p
		}
	}
	t += ")"
	if v == indicator.Undecided && most.u > 0 {
		t += "; " + record.Largest(most.what, most.cure)
	}
	if b.SweptAt != nil {
		t += "; the reference was swept at " + b.sweptWords()
	}
	return t
}

// sweptWords are where the sweep was taken, by the slides' own scales.
func (b *AboutBudget) sweptWords() string {
	show := func(n record.Number) string { return geom.FormatFixed(float64(n), geom.Places(0, b.unit)) }
	return fmt.Sprintf("%s %s, %s %s %v: go back there for another arc", b.Way[0].Slide, show(b.SweptAt.X),
		b.Way[1].Slide, show(b.SweptAt.Y), b.unit)
}

// AboutWords are that for a screen, one part a line; none where the axis has not been carried so.
func AboutWords(s *session.State, f *indicator.Estimate, u geom.Unit) (out []string) {
	a, ok := s.Away(f)
	if !ok {
		return nil
	}
	b := aboutOf(&a, u)
	out = append(out, b.place())
	for _, p := range b.parts() {
		out = append(out, p.words(u))
	}
	return out
}

// CourseWords are what to make sure of before the slides go on to the arc's centre; empty where they go nowhere.
func CourseWords(s *session.State, u geom.Unit) string {
	c, ok := setup.CourseOf(&s.Set.Job, &s.Set.Machine)
	if !ok {
		return ""
	}
	return fmt.Sprintf("the way begins at the centre of the reference at %s: is it the one that was swept?", onDrawing(c.Reference, u))
}
