package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

var took = told[session.Took]{status: figures, lines: func(st session.Step, e session.Took, u geom.Unit) []Line {
	s := &st.After
	out := []Line{reading(s, e, u)}
	_, asked := st.Asks()
	// The planned stations are in and the sweep goes on: say what there is, so that the
	// further station does not come out of the blue.
	if s.Doubt == nil && s.Sweep.Closed == "" && s.Sweep.Entries() >= s.Set.Job.Sweep.Stations && asked {
		out = append(out, fitLine(s, u))
	}
	return out
}}.row()

var skipped = told[session.Skipped]{status: asText, lines: func(st session.Step, e session.Skipped, u geom.Unit) []Line {
	s := &st.After
	return []Line{Skip{Say: "skipped", Trial: s.Trial, Station: number(s, e.Again), Bearing: degrees(e.Bearing),
		Off: e.Off, place: place(s, e.Bearing)}}
}}.row()

var doubted = told[session.Doubted]{lines: func(st session.Step, e session.Doubted, u geom.Unit) []Line {
	s := &st.After
	l := DoubtLine{Say: "doubt", Trial: s.Trial, Station: e.Station, Because: e.Because, WouldBe: Number(nan), unit: u,
		places: ReadingPlaces(s.Set.Job.Dial, u)}
	if e.WouldBe != nil {
		l.WouldBe = Number(u.From(*e.WouldBe))
	}
	if e.WouldBeAt != nil {
		l.WouldBeAt = placeOf(geom.Point(*e.WouldBeAt), u)
	}
	return []Line{l}
}}.row()

var kept = told[session.Kept]{status: asText, lines: func(st session.Step, e session.Kept, _ geom.Unit) []Line {
	return []Line{KeptLine{Say: "kept", Trial: st.After.Trial, Station: e.Station}}
}}.row()

// number is the station that an entry went to: the one asked for once more, or the last.
func number(s *session.State, again int) int {
	if again > 0 {
		return again
	}
	return s.Sweep.N
}

func reading(s *session.State, e session.Took, u geom.Unit) Line {
	n, places := number(s, e.Again), ReadingPlaces(s.Set.Job.Dial, u)
	l := ReadingLine{Say: "reading", Trial: s.Trial, Station: n, Bearing: degrees(e.Bearing), Value: Number(u.From(e.Reading)),
		text: fmt.Sprintf("station %d, %s: %s %v", n, place(s, e.Bearing), Reading(s.Set.Job.Dial, u, e.Reading), u)}
	if e.At != nil {
		at := placeOf(geom.Point(*e.At), u)
		l.Value, l.Point = Number(nan), at
		l.text = fmt.Sprintf("point %d: %s", n, at.text(places, u))
	}
	if e.Corrected {
		l.text += ", as proposed"
	}
	if n < 1 || n > s.Sweep.N {
		return l // a damaged journal: there is no such station
	}
	st := &s.Sweep.Stations[n-1]
	if st.OffBy.Known() {
		l.text += fmt.Sprintf(", off by %s %v", geom.FormatSigned(u.From(st.OffBy.V), places), u)
	}
	if !st.Surprise {
		return l
	}
	l.Surprise = true
	why := string(st.Because)
	l.Because = &why
	l.text += ": " + SlipWords(st.Because)
	if !math.IsNaN(st.WouldBe) {
		would := Number(u.From(st.WouldBe))
		l.WouldBe = &would
		l.text += fmt.Sprintf(" then it would be %s %v", geom.FormatFixed(float64(would), places), u)
	}
	return l
}
