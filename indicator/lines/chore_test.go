package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// cutting is a setting whose arc is cut: of 40 about the pivot from 20° to 70° with a cutter of 6.
func cutting(turned, hollow bool, arc *part.Picked) *session.State {
	set := session.Opened{Job: setup.Job{Target: setup.Target{SwingRadius: 37}, Cut: &setup.Cut{Hollow: hollow, Cutter: 6, Stock: 0.3}},
		Arc: arc, Steps: true}
	if turned {
		set.Job.Setup.Kind = indicator.Turned
	}
	set.Machine.Head, set.Machine.Table = setup.Ring{Figures: slide.Clockwise}, setup.Ring{}
	return &session.State{Set: &set, Trial: 1}
}

// Every step has words, the first a sentence, the last short enough for large letters, and none tells a figure that is
// to be measured before it has been.
func TestEveryChoreHasWords(t *testing.T) {
	s := cutting(false, true, nil)
	for _, c := range session.AllChores() {
		all := lines.ChoreWords(s, c, geom.Millimetre)
		if len(all) < 2 || len(all[len(all)-1]) > 16 {
			t.Errorf("%s: words %q", c, all)
		}
		if (c == session.Measure || c == session.CheckArc) && strings.ContainsAny(strings.Join(all, ""), "0123456789") {
			t.Errorf("%s tells a figure beforehand: %q", c, all)
		}
	}
}

// Before anything is roughed in the tip comes clear, whether the radius is set for a trial cut or for a sweep; and in every form that
// tells what to set, ahead of it.
func TestRoughInClearsTheTipFirst(t *testing.T) {
	for _, trial := range []bool{false, true} {
		s := cutting(false, true, nil)
		s.Set.Job.Target.Trial = trial
		all := lines.ChoreWords(s, session.RoughIn, geom.Millimetre)
		for _, words := range all[:2] {
			tip, radius := strings.Index(words, "tip clear"), strings.Index(words, "radius")
			if tip < 0 || radius < tip {
				t.Errorf("trial cut %v: %q, want the tip clear first", trial, words)
			}
		}
	}
}

// The step that cuts tells start, sense and stop, with the ring's figures: the outer wall of a slot, concave, is cut
// conventionally clockwise from above, from 70° to 20°, and on a table whose cutter stands at 90° the table goes
// anticlockwise from 20° to 70° of its own. By the side of the metal alone the sense is known, and not the ends.
func TestCutTellsTheRun(t *testing.T) {
	arc := part.Picked{Part: "plate", N: 1, Radius: 40, From: geom.FromDegrees(20), To: geom.FromDegrees(70), Side: "outside", Cutter: 6,
		Swing: 37, Sense: "clockwise"}
	at := geom.FromDegrees(90)
	onTable := arc
	onTable.Sense, onTable.CutterBearing = "anticlockwise", &at
	old := onTable
	old.CutterBearing = nil
	for _, c := range []struct {
		s    *session.State
		want string
	}{
		{cutting(false, true, &arc), "start at 70° (ring 290°), swing clockwise from above through 50°, stop at 20° (ring 340°)"},
		{cutting(true, true, &onTable), "start with the table at 20° (ring 20°), turn it anticlockwise from above through 50°, stop at " +
			"70° (ring 70°)"},
		{cutting(true, true, &old), "turn the table anticlockwise from above"},
		{cutting(false, true, nil), "swing clockwise from above, for a cutter that turns clockwise from above"},
		{cutting(false, false, nil), "swing anticlockwise from above, for a cutter that turns clockwise from above"},
		{cutting(true, true, nil), "turn the table anticlockwise from above, for a cutter that turns clockwise from above"},
	} {
		for _, chore := range []session.Chore{session.RoughCut, session.Cut, session.DrySwing, session.DryTurn} {
			got, lies, _ := strings.Cut(lines.ChoreWords(c.s, chore, geom.Millimetre)[0], "; start and stop hold with the drawing's X along the ")
			if dry := chore == session.DrySwing || chore == session.DryTurn; (lies != "") != (dry && strings.Contains(c.want, "stop at")) {
				t.Errorf("%s: how the drawing lies: %q", chore, lies)
			}
			if !strings.HasSuffix(got, ": "+c.want) {
				t.Errorf("%s: %q, want it to end with %q", chore, got, c.want)
			}
		}
	}
}

// The step that cuts tells how near to their places the stops have to be: of a clockwise run from 70° to 20° whose stop may
// be 0.5° beyond and 0.25° short, 19.5° and 20.25°; a head's ring that is figured clockwise from 0 shows there 340.5° and
// 339.75°. Where the cutter may run on behind the start, only short is told. Nothing is told of a plan that says nothing.
func TestCutTellsItsWindows(t *testing.T) {
	past := geom.FromDegrees(0.5)
	arc := part.Picked{Part: "plate", N: 1, Radius: 40, From: geom.FromDegrees(20), To: geom.FromDegrees(70), Side: "outside", Cutter: 6,
		Swing: 37, Sense: "clockwise", AtFrom: &part.Window{Past: &past, Short: geom.FromDegrees(0.25)},
		AtTo: &part.Window{Short: geom.FromDegrees(1)}}
	const want = "stop at 20° (ring 340°); start no shorter than 69° (ring 291°), beyond it gouges nothing of the outline, " +
		"but may run into what holds the part; " +
		"stop between 19.5° (ring 340.5°) and 20.25° (ring 339.75°), rather short"
	if got := lines.ChoreWords(cutting(false, true, &arc), session.Cut, geom.Millimetre)[0]; !strings.HasSuffix(got, want) {
		t.Errorf("%q, want it to end with %q", got, want)
	}
	arc.AtFrom, arc.AtTo = nil, nil
	if got := lines.ChoreWords(cutting(false, true, &arc), session.Cut, geom.Millimetre)[0]; !strings.HasSuffix(got,
		"stop at 20° (ring 340°)") {
		t.Errorf("without windows: %q", got)
	}
}
