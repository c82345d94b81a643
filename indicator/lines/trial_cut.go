package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

type (
	// TrialCutLine tells a cut that is made so that its arc can be measured, before its steps: what it leaves on, the swing radius
	// that it is made at, as far as that is known, and what comes then.
	TrialCutLine struct {
		Say    string        `json:"say"`
		Leaves record.Number `json:"leaves"`
		Swing  record.Number `json:"swing"`
		Then   string        `json:"then"`
		text   string
	}
	// StandsLine says what arc will be cut as the offset slide stands behind a wind that goes by a measured cut, the swing radius
	// that this takes, and what is proven of it.
	StandsLine struct {
		Say     string            `json:"say"`
		Arc     *record.Value     `json:"arc"`
		Swing   *record.Value     `json:"swing"`
		Verdict indicator.Verdict `json:"verdict"`
		text    string
	}
	// RadiusSet is what the step says that has the swing radius set by scale: the figure, and what a cut leaves on there.
	RadiusSet struct {
		Swing  record.Number `json:"swing"`
		Leaves record.Number `json:"leaves"`
	}
	// TrialFound is what follows from a measured trial cut: the swing radius that it was made at, and, once the arc is done, the
	// reach; null where they are not known.
	TrialFound struct {
		Swing *record.Value `json:"swing,omitempty"`
		Reach *record.Value `json:"reach,omitempty"`
	}
)

// Text: see [Line].
func (l TrialCutLine) Text() string { return l.text }

// Text: see [Line].
func (l StandsLine) Text() string { return l.text }

// radiusSet is what the step says that sets the swing radius for a trial cut; nil of all others.
func radiusSet(s *session.State, c session.Chore, u geom.Unit) *RadiusSet {
	if c != session.RoughIn || !s.ByTrial() {
		return nil
	}
	r := s.TrialRadius()
	return &RadiusSet{record.Number(u.From(r)), record.Number(u.From(math.Abs(r - s.Set.Job.Target.SwingRadius)))}
}

// RadiusToSet is the swing radius that is set by scale for a trial cut, short enough for large letters.
func RadiusToSet(s *session.State, u geom.Unit) string {
	return "radius " + long(s.TrialRadius(), u)
}

// radiusSum is the swing radius that is set by scale for a trial cut, with what makes it: "43.300 mm: target 42.000 + stock 0.300 +
// 1.000 that it may be out when set so".
func (t *choreTeller) radiusSum() string {
	c := t.j.Cut
	scale, usual := c.Scale()
	sign := "+"
	if c.Hollow {
		sign = "-"
	}
	show := func(mm float64) string { return geom.FormatFixed(t.u.From(mm), 3) }
	sum := fmt.Sprintf("%s: target %s %s stock %s %s %s that it may be out when set so", t.length(t.s.TrialRadius()),
		show(t.j.Target.SwingRadius), sign, show(c.Stock), sign, show(scale))
	if usual {
		sum += " (a guess for a scale, common practice; cut.radius_error says otherwise)"
	}
	return sum
}

// roughedIn are the words of the step that has everything set by eye and scale.
func roughedIn(t *choreTeller) []string {
	if t.s.ByTrial() {
		to := t.length(t.s.TrialRadius())
		return []string{"rough in, the tip clear of everything first: swing radius by scale or collar to " + t.radiusSum() +
			"; wound past it and brought up the take-up way, locked, and not touched before the cut; centre by pin or edge finder",
			"tip clear; swing radius by scale to " + to + ", lock; centre by eye", "swing radius by scale to " + to}
	}
	radius := ""
	if t.j.Target.WantsSwing() {
		radius = "swing radius to within 1 mm by scale or collar, "
	}
	return []string{"rough in, the tip clear of everything first: " + radius + "centre by pin or edge finder",
		"rough in: tip clear first, then radius and centre"}
}

// leavesOn is what is left on by the wind or the cut that comes, millimetres.
func leavesOn(s *session.State) float64 {
	if t, ok := s.TrialCut(); ok {
		return t.Leaves
	}
	return s.Set.Job.Cut.Stock
}

// trialCut tells the trial cut that comes next; nil where none does.
func trialCut(s *session.State, u geom.Unit) []Line {
	c, ok := s.TrialCut()
	if !ok {
		return nil
	}
	t := choreTeller{s: s, j: &s.Set.Job, u: u}
	l := TrialCutLine{Say: "trial cut", Leaves: record.Number(u.From(c.Leaves)), Swing: record.Number(u.From(c.Swing)), Then: "measure"}
	if c.Scale == 0 {
		a := s.ArcNow()
		l.text = fmt.Sprintf("the last wind would be so long that its doubt is more than the tolerance of ±%s: better leave %s on once "+
			"more, cut, and measure again; the arc stands at %s", t.length(t.j.Target.Tolerance), t.length(c.Leaves),
			record.Measured(u, a.Value()))
		return []Line{l}
	}
	l.text = fmt.Sprintf("trial cut: it leaves %s on, stock and all that the radius may be out as it is set by scale (%s), then measure; "+
		"indicator out and cutter in before, and one %s", t.length(c.Leaves), t.length(c.Scale), DryWords(s))
	return []Line{l}
}

// stands says what is known of the arc behind a wind that goes by a measured cut.
func stands(s *session.State, u geom.Unit) []Line {
	a := s.ArcNow()
	if !a.Known {
		return nil
	}
	j, v := &s.Set.Job, a.Value()
	t := choreTeller{s: s, j: j, u: u}
	swing := s.SwingNow()
	l := StandsLine{Say: "stands", Arc: record.ValueOf(u, v), Swing: record.ValueOf(u, swing),
		Verdict: indicator.Judge(indicator.Value{V: v.V - j.Arc(), U: v.U}, j.Target.Tolerance, 1)}
	k := v.U / math.Hypot(a.Measured, a.Wound)
	l.text = fmt.Sprintf("the arc will be %s: measured to ±%s, wound to ±%s", record.Measured(u, v), t.length(k*a.Measured),
		t.length(k*a.Wound))
	if _, more := s.TrialCut(); !more {
		tol := "its tolerance of ±" + t.length(j.Target.Tolerance)
		if l.Verdict == indicator.Undecided {
			l.text += "; which leaves it undecided against " + tol + ": measure better"
		} else {
			l.text += "; " + l.Verdict.String() + " " + tol
		}
	} else {
		l.Verdict = indicator.NoVerdict
	}
	return []Line{l}
}

// trial tells what follows from a measured trial cut, or from an arc that is done.
func (t *arcTeller) trial(x *ArcDid) {
	if !t.s.ByTrial() {
		return
	}
	switch t.e.Step {
	case session.Measure:
		if r, ok := t.s.TrialSwing(); ok {
			x.TrialFound = &TrialFound{Swing: record.ValueOf(t.u, r)}
			x.Notes = append(x.Notes, fmt.Sprintf("the trial cut was made at a swing radius of %s, the arc and half the cutter",
				record.Measured(t.u, r)))
		}
	default:
		if r, ok := t.s.FoundReach(); ok {
			x.TrialFound = &TrialFound{Reach: record.ValueOf(t.u, r)}
			x.Notes = append(x.Notes, ReachFound(t.s, t.u))
		}
	}
}

// leftOutWords say what comes of a step that was left out where the radius comes from a trial cut.
func leftOutWords(s *session.State, c session.Chore, u geom.Unit) string {
	switch {
	case !s.ByTrial():
	case c == session.CheckArc && ReachFound(s, u) != "":
		return "; " + ReachFound(s, u)
	case c == session.Measure:
		if now := s.ArcNow(); !now.Known {
			return "; how much there is to take off nobody knows, so no last wind is told"
		}
	}
	return ""
}

// seatedAnew is how far a reach may be off once the indicator has been out and in again, millimetres (common practice, no source).
const seatedAnew = 0.05

// ReachFound says which reach follows from the trial cut; empty where none does.
func ReachFound(s *session.State, u geom.Unit) string {
	r, ok := s.FoundReach()
	if !ok {
		return ""
	}
	return fmt.Sprintf("the reach was %s as the indicator was seated for the sweep: the next setting is proposed it; seated anew it may "+
		"be off by %s %v (common practice)", record.Measured(u, r), geom.FormatFixed(u.From(seatedAnew), geom.Places(0, u)), u)
}
