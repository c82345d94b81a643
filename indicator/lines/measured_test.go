package lines_test

import (
	"fmt"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// A finished arc of 40 ±0.05 is outside its tolerance as much below it as above.
func TestArcIsOutsideOnEitherSide(t *testing.T) {
	for radius, within := range map[float64]string{
		40.1: "outside its tolerance of ±0.050 mm", 39.9: "outside its tolerance of ±0.050 mm",
		40.04: "inside its tolerance of ±0.050 mm", 39.96: "inside its tolerance of ±0.050 mm",
	} {
		for _, hollow := range []bool{false, true} {
			s := cutting(false, hollow, nil)
			arc := s.Set.Job.Arc()
			s.Set.Job.Target.Tolerance, s.Phase = 0.05, session.Ended
			r := arc + radius - 40
			s.Worked = []session.Worked{{Step: session.CheckArc, Value: &r}}
			if got := lines.CutWords(s, geom.Millimetre); !strings.HasSuffix(got, within) {
				t.Errorf("hollow %v, %v of %v: %q, want %s", hollow, r, arc, got, within)
			}
		}
	}
}

// What was measured stands beside what was expected, each by its name, and what is beyond the target on the side where no metal can be put
// back is told by how much: of a boss below it, in a hollow above.
func TestMeasuredStandsBesideExpected(t *testing.T) {
	for _, hollow := range []bool{false, true} {
		out := map[bool]float64{true: -1, false: 1}[hollow] // where there is metal
		for off, want := range map[float64]string{
			0.2: "%s mm was expected, off by %s mm", -0.05: "%s mm was expected, off by %s mm; " +
				"0.050 mm beyond its target already: that metal is gone, and no last wind is told",
		} {
			s := cutting(false, hollow, nil)
			arc := s.Set.Job.Arc()
			r := arc + out*off
			s.Phase, s.Worked = session.Ended, []session.Worked{{Step: session.Measure, Value: &r}}
			want = fmt.Sprintf(want, geom.FormatFixed(arc, 3), geom.FormatSigned(out*off, 3))
			if got := lines.CutWords(s, geom.Millimetre); !strings.HasSuffix(got, "; "+want) ||
				!strings.Contains(got, "radius "+geom.FormatFixed(r, 3)+" mm") {
				t.Errorf("hollow %v, measured %v: %q, want %q", hollow, r, got, want)
			}
		}
	}
}

// The dial set anew is told from what it showed to what it shows, in the line, in its object and behind undo.
func TestBezelIsToldFromTo(t *testing.T) {
	s := begin(t, bench(t, nil)).loaded().do(session.Bezel{Showed: -0.412, Shows: 0.05})
	l, is := s.said[0].(lines.BezelLine)
	if !is || !strings.HasSuffix(l.Text(), "what showed -0.412 mm shows 0.050 now") || l.Showed != -0.412 || l.Shows != 0.05 {
		t.Errorf("%+v, %q; want from -0.412 to 0.050", s.said[0], s.said[0].Text())
	}
	st := s.live.State()
	if got := lines.UndoWords(&st, geom.Millimetre); got != "the new setting of the dial, -0.412 to 0.050 mm" {
		t.Errorf("undo takes back %q", got)
	}
}

// How the tip stood where a look between two winds was left out is in its object as in its words.
func TestLookSaysHowTheTipStands(t *testing.T) {
	o := bench(t, nil)
	for _, off := range []session.Off{session.NotOff, session.Free, session.Pressed} {
		s := session.State{}.Apply(o)
		e := session.Looked{Bearing: geom.FromDegrees(90), Skipped: true, Off: off}
		said := lines.Of(session.Step{Before: s, Event: e, After: s.Apply(e)}, geom.Millimetre)
		l, is := said[0].(lines.LookedLine)
		if !is || l.Off != off || l.Used || !l.Value.Unknown() || !strings.Contains(l.Text(), off.Words()) {
			t.Errorf("%q: %+v, %q", off, said[0], said[0].Text())
		}
	}
}
