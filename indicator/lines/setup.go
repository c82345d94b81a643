package lines

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// SetupLine is how the indicator is set up: drawings in plain characters, the steps in the order of the
// bench, and what the dial reads at the target. It is said only where it is asked for.
type SetupLine struct {
	Say   string   `json:"say"`
	Above []string `json:"above"`
	Side  []string `json:"side"`
	// AtTarget is what the dial reads at the target on a reference that stands true; null where no swing
	// radius is asked for.
	AtTarget record.Number `json:"at_target"`
	Notes    []string      `json:"notes"`
	Steps    []string      `json:"steps"`
}

// aboveRows is how high the view from above is in plain lines.
const aboveRows = 13

// Setup says how the session's indicator is set up, in unit u.
func Setup(s *session.State, u geom.Unit) SetupLine {
	l := SetupLine{Say: "setup", Above: []string{}, Side: []string{}, AtTarget: record.Number(nan), Notes: []string{}, Steps: SetupSteps(s)}
	if k, ok := record.NewSketch(&s.Set.Job); ok {
		k.Unit = u
		l.Above, l.Side = k.Above(aboveRows), k.Side(76)
		l.Notes = append(l.Notes, AboveWords(&k))
	}
	if m, ok := atTarget(s); ok {
		l.AtTarget = record.Number(u.From(m))
		l.Notes = append(l.Notes, TargetWords(s, u)[0])
	} else if s.Set.Job.Target.Trial {
		l.Notes = append(l.Notes, TrialOpened)
	}
	return l
}

// Text: see [Line].
func (l SetupLine) Text() string {
	rows := append(append([]string{}, l.Above...), l.Side...)
	rows = append(rows, l.Notes...)
	return strings.Join(append(rows, l.Steps...), "\n")
}

// AboveWords explains the signs of a view from above.
func AboveWords(k *record.Sketch) string {
	axis, way := "head axis", "swing anticlockwise; locked: spindle to head (witness mark), quill, knee"
	switch {
	case k.Over:
		axis, way = "table axis", "turn the spindle by hand, out of gear; locked: table, quill, knee"
	case k.Table:
		axis, way = "table axis", "turn the table clockwise; locked: spindle, quill, knee, other slide"
	}
	return fmt.Sprintf("from above: + %s, S spindle, o tip at %s, # metal; %s", axis, record.Degrees(k.At.Degrees360()), way)
}

// atTarget is what the dial reads at the target swing radius on a reference that stands true to the
// axis, millimetres; ok is false where none is asked for.
func atTarget(s *session.State) (m float64, ok bool) {
	j := &s.Set.Job
	if !j.Target.WantsSwing() || !j.Setup.ReachKnown || !(j.Setup.ReferenceRadius > 0) {
		return 0, false
	}
	all, _ := j.Dial.Gauges(j.Setup.Touch, j.Target.SwingRadius, j.Setup.Reach, []float64{j.Setup.ReferenceRadius})
	return all[0].Reading, true
}

// TrialOpened is told as a setting opens whose job states no reach.
const TrialOpened = "no reach is stated (setup.reach), so the radius comes from a trial cut in the work, which is measured; where the " +
	"reach is known, leave and state it"

// TargetWords says what the dial reads at the target, and what would make it read zero there, where the
// errors of its scale and of a lever vanish, in ever shorter forms; nil where no swing radius is asked for.
func TargetWords(s *session.State, u geom.Unit) []string {
	m, ok := atTarget(s)
	if s.Set.Job.Target.Trial {
		return []string{TrialOpened, "no reach stated: the radius comes from a trial cut in the work"}
	}
	if !ok {
		return nil
	}
	j := &s.Set.Job
	show := func(mm float64) string { return geom.FormatFixed(u.From(mm), record.ReadingPlaces(j.Dial, u)) }
	size := func(mm float64) string { return geom.FormatFixed(u.From(mm), geom.Places(0, u)) }
	short := fmt.Sprintf("at the target the dial reads about %s %v", show(m), u)
	if math.Abs(m) < j.Dial.Graduation/2 {
		return []string{short}
	}
	middle := short + "; leave the tip as it is: the reach holds for it as it is seated now"
	return []string{middle + fmt.Sprintf("; a %v of radius %s %v reads zero with it", j.Setup.Touch,
		size(indicator.NullReference(j.Target.SwingRadius, j.Setup.Reach)), u), middle, short}
}

// TurningWords names the turning point: with the tip away from the head axis in a bore, or towards it
// on a boss, the highest reading; the lowest in the other two cases. Where the figures fall as the tip is pressed it is the
// other way round.
func TurningWords(j *setup.Job) string {
	s, away, towards := &j.Setup, "highest reading", "lowest reading"
	if (s.Touch == indicator.Boss) != j.Dial.Falls {
		away, towards = towards, away
	}
	switch {
	case !s.ReachKnown:
		return away + " with the tip away from the axis, " + towards + " towards it"
	case s.Reach > 0:
		return away
	}
	return towards
}

// SafeWords come before every set-up.
const SafeWords = "spindle off and isolated before a hand goes near it; work and head clamped"

// DeferWords come behind it.
const DeferWords = "your machine's manual, local rules and supervision go first"

// SetupSteps are the things to do before the first reading, in the order of the bench, with what holds
// in every set-up before and behind them.
func SetupSteps(s *session.State) []string {
	out := append([]string{SafeWords}, s.SetUp().Steps(phrases(s))...)
	if where := SweptWords(s.Set, s.Set.Job.Unit); where != "" {
		out = append(out, where)
	}
	if o := obstacles(s); o != "" {
		out = append(out, "can't reach "+o+": no station there")
	}
	if s.Past == nil {
		if l, other := planned(s); other {
			out = append(out, l.Text())
		}
	}
	return append(out, DeferWords)
}

// phrases are the figures that a set-up's steps are told with.
func phrases(s *session.State) *setup.Phrases {
	j := &s.Set.Job
	p := setup.Phrases{
		Press: "outwards: a nearer wall reads more", TurningPoint: TurningWords(j),
		Indicator: record.Degrees(j.Setup.IndicatorBearing.Degrees360()),
		Tip:       fmt.Sprintf("%s %v", geom.FormatFixed(j.Unit.From(j.Setup.TipDiameter), geom.Places(0, j.Unit)), j.Unit),
		Touching:  record.Touching(j.Setup.Touch),
	}
	if j.Setup.Touch == indicator.Boss {
		p.Press = "inwards: a farther wall reads more"
	}
	if j.Dial.Falls {
		p.Press = strings.Replace(p.Press, "more", "less", 1)
	}
	if sl, _, ok := s.RadiusSlide(); ok {
		p.RadiusSlide = SlideName(sl.Name)
	}
	for _, sl := range s.Set.Machine.Slides {
		if t, some := s.ReachedAt(sl); some {
			p.Reached = append(p.Reached, [2]string{SlideName(sl.Name), RingWords(s.Set.Machine.Table.Shows(t), nil)})
		}
	}
	return &p
}

// SlideName is how a person calls a slide: X and Y as on the machine.
func SlideName(name string) string { return job.SlideWords(name) }

// obstacles names what cannot be reached, as "80° to 130° and 350° to 20°"; empty for nothing.
func obstacles(s *session.State) string {
	var all []string
	for _, o := range s.Set.Job.Sweep.Obstacles {
		all = append(all, PlaceIn(s, o.From, s.Set.Bearings)+" to "+PlaceIn(s, o.To, s.Set.Bearings))
	}
	if n := len(all) - 1; n > 0 {
		return strings.Join(all[:n], ", ") + " and " + all[n]
	}
	return strings.Join(all, "")
}
