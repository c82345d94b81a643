package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

type (
	// TapLine tells one tap: with the table parked, which side of the work to knock, and up to which reading.
	TapLine struct {
		Say   string `json:"say"`
		Trial int    `json:"trial"`
		Step  int    `json:"step"`
		// Side is the bearing, in the work's own frame, of the side to tap; Push is where that drives the work:
		// towards the indicator, or away from it. By is how far it is to go.
		Side record.Number `json:"side"`
		Push string        `json:"push"`
		By   record.Number `json:"by"`
		Park *Park         `json:"park"`
		// WholeNumbers: as of an [Ask].
		WholeNumbers indicator.WholeNumbers `json:"whole_numbers,omitempty"`
		unit         geom.Unit
	}
	// TappedLine repeats what the needle showed after a tap.
	TappedLine struct {
		Say     string        `json:"say"`
		Trial   int           `json:"trial"`
		Step    int           `json:"step"`
		Reading record.Number `json:"reading"`
		Goal    record.Number `json:"goal"`
		Gauge   *GaugedBy     `json:"gauge,omitempty"`
		text    string
	}
)

// PushWords says where a tap drives the work.
func PushWords(t *setup.Tap) string {
	if t.Towards {
		return "towards the indicator"
	}
	return "away from the indicator"
}

// SideWords says which side of the work to tap, as the hand finds it with the table parked.
func SideWords(t *setup.Tap) string {
	if t.Towards {
		return "the side across from the indicator"
	}
	return "the side at the indicator"
}

// TapSide is that in short, behind "tap the side".
func TapSide(t *setup.Tap) string {
	if t.Towards {
		return "across"
	}
	return "at indicator"
}

func tap(s *session.State, p session.WindAsked, u geom.Unit) Line {
	k, tap := p.Told.Park, p.Told.Tap
	return TapLine{Say: "tap", Trial: s.Trial, Step: p.Told.Step, Side: record.Degrees360(tap.Side), Push: PushWords(tap),
		By: record.Number(u.From(p.Told.Wind.Travel)),
		Park: &Park{record.Degrees360(k.Bearing), table(s, p.Position), record.Number(p.Ring), record.Number(u.From(k.Now)), nil,
			record.Number(u.From(k.Goal)),
			vernier(s, p.Position), record.ReadingPlaces(s.Set.Job.Dial, u), s.Set.Bearings},
		WholeNumbers: s.Set.Job.Dial.WholeNumbers, unit: u}
}

// Text: see [Line].
func (l TapLine) Text() string {
	p := l.Park
	show := func(n record.Number) string { return geom.FormatSigned(float64(n), p.places) }
	side := SideWords(&setup.Tap{Towards: l.Push != PushWords(&setup.Tap{})})
	return fmt.Sprintf("tap %d: park the table at %s, needle now %s %v; tap %s (%s of the work) %s until %s %v; type the reading "+
		"after every tap%s",
		l.Step, RingWords(float64(p.Collar), p.Vernier), show(p.ReadingNow), l.unit, side,
		record.Degrees(record.RoundTo(float64(l.Side), 1)), l.Push, show(p.ReadingGoal), l.unit, countsWords(l.WholeNumbers))
}

func tappedLine(st session.Step, e session.Wound, u geom.Unit) Line {
	told, d := st.Before.Told, st.Before.Set.Job.Dial
	places := record.ReadingPlaces(d, u)
	l := TappedLine{Say: "tapped", Trial: st.Before.Trial, Step: told.Step, Reading: record.Number(u.From(*e.Reading)),
		Goal: record.Number(u.From(told.Park.Goal)), Gauge: gaugedBy(e.Gauge, u)}
	off := *e.Reading - told.Park.Goal
	word := "short of"
	if off*(told.Park.Goal-told.Park.Now) > 0 {
		word = "past"
	}
	if geom.FormatFixed(u.From(off), places) == geom.FormatFixed(0, places) {
		l.text = fmt.Sprintf("tap %d: needle at %s %v, at its goal", l.Step, record.Reading(d, u, *e.Reading), u) +
			GaugedWords(e.Gauge, u)
		return l
	}
	if off < 0 {
		off = -off
	}
	l.text = fmt.Sprintf("tap %d: needle at %s %v, %s %v %s its goal", l.Step, record.Reading(d, u, *e.Reading), u,
		geom.FormatFixed(u.From(off), places), u, word) + GaugedWords(e.Gauge, u)
	return l
}

// Text: see [Line].
func (l TappedLine) Text() string { return l.text }
