package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

type (
	// AtLine repeats where a slide's scale stands.
	AtLine struct {
		Say   string        `json:"say"`
		Trial int           `json:"trial"`
		Slide string        `json:"slide"`
		At    record.Number `json:"at"`
		unit  geom.Unit
	}
	// StartLine says where to set the offset slide's collar for the wanted radius, by what the machine
	// has taught: the count, and the same as turns and divisions.
	StartLine struct {
		Say       string        `json:"say"`
		Slide     string        `json:"slide"`
		Collar    record.Value  `json:"collar"`
		Turns     int           `json:"turns"`
		Divisions record.Number `json:"divisions"`
		unit      geom.Unit
	}
	// OddLine says that a trial went otherwise than the machine had taught.
	OddLine struct {
		Say     string        `json:"say"`
		Trial   int           `json:"trial"`
		Slide   string        `json:"slide"`
		Because string        `json:"because"`
		Off     *record.Value `json:"off"`
		text    string
	}
)

// Start says where to begin a new radius; nil where the machine has not taught that.
func Start(s *session.State, u geom.Unit) Line {
	count, ok := s.Start()
	sl, has := s.Set.Machine.Slide("offset")
	if !ok || !has {
		return nil
	}
	turns, div := sl.TurnsOf(count.V)
	return StartLine{"start", "offset", *record.ValueOf(u, count), turns, record.Number(div), u}
}

// odd says what was odd about the trials that a step brought in.
func odd(st session.Step, u geom.Unit) (out []Line) {
	for _, o := range st.After.Odd[min(len(st.Before.Odd), len(st.After.Odd)):] {
		l := OddLine{Say: "odd", Trial: o.Trial, Slide: o.Slide, Because: o.Finding.Kind.String(), Off: record.ValueOf(u, o.Finding.Off)}
		if o.Finding.Kind == slide.OddAngle { // degrees, whatever the unit
			l.Off = record.ValueOf(geom.Millimetre, indicator.Value{V: geom.Bearing(o.Finding.Off.V).Degrees(),
				U: geom.Bearing(o.Finding.Off.U).Degrees()})
		}
		l.text = OddText(o, u)
		out = append(out, l)
	}
	return out
}

// OddText says in words what was odd about a trial.
func OddText(o session.Odd, u geom.Unit) string {
	return fmt.Sprintf("%s slide: %s", o.Slide, oddWords(o.Finding, u))
}

func oddWords(f slide.Finding, u geom.Unit) string {
	by := func(v indicator.Value) string { return record.Measured(u, v) }
	switch f.Kind {
	case slide.SlippedCollar:
		t := "the collar has slipped"
		if f.Shown.Known() {
			t += ": it shows " + by(f.Shown) + " too much"
		}
		if f.NewSetup {
			t += ", or the reach or the reference is not what it was"
		}
		return t + "; its origin is learnt anew, pitch and miss are kept"
	case slide.OddTravel:
		return "it moved " + by(f.Off) + " more than its collar says: was the backlash taken up? Nothing is learnt from that wind"
	case slide.OddLock:
		return "locking moved it unlike other times, by " + by(f.Off) + "; not taken in"
	case slide.OddAngle:
		return fmt.Sprintf("it went %s to the side of where it was known to go; not taken in",
			record.Angled(record.AngleOf(f.Off.V, f.Off.U)))
	case slide.OtherWay:
		return "it went the other way, by " + by(f.Off) + ", against its statement; nothing is learnt from that wind"
	case slide.ChangedPlay:
		return "the backlash is not what it was: it is learnt anew"
	case slide.Refused:
		return f.Why
	case slide.Nothing:
	}
	return f.Kind.String()
}

var stoodAt = told[session.StoodAt]{status: asText, undo: func(_ *session.State, e session.StoodAt, u geom.Unit) string {
	return "where " + SlideName(e.Slide) + " stands, " + long(e.At, u)
}, lines: func(st session.Step, e session.StoodAt, u geom.Unit) []Line {
	return []Line{AtLine{"at", st.After.Trial, e.Slide, record.Number(u.From(e.At)), u}}
}}.row()

// Text: see [Line].
func (l AtLine) Text() string {
	return fmt.Sprintf("%s slide: now at %s %v", l.Slide, geom.FormatFixed(float64(l.At), 4), l.unit)
}

// Text: see [Line].
func (l StartLine) Text() string {
	return fmt.Sprintf("start with the %s slide's collar at %s (%d turns %.1f div), brought up the take-up way", l.Slide,
		l.Collar.Text(l.unit), l.Turns, float64(l.Divisions))
}

// Text: see [Line].
func (l OddLine) Text() string { return l.text }
