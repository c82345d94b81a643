package lines

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// ArcDid is what came of an arc's measurement: Expected is the radius that it was meant to have at that step, null where the
// job does not say, and Error by how much it is off. The rest is there where it was measured by a way: Radius with its doubt,
// the figures as they were read, and what the one that is aimed at should have been.
type ArcDid struct {
	Diameter record.Number            `json:"diameter"`
	Expected record.Number            `json:"expected"`
	Error    record.Number            `json:"error"`
	Way      string                   `json:"way,omitempty"`
	Figures  map[string]record.Number `json:"figures,omitempty"`
	Radius   *record.Value            `json:"radius,omitempty"`
	Should   map[string]record.Number `json:"should,omitempty"`
	Verdict  *indicator.Verdict       `json:"verdict,omitempty"`
	*TrialFound
	Notes []string `json:"notes,omitempty"`
}

// across is a radius by its diameter, as a shop knows it.
func across(radius float64, u geom.Unit) string {
	return "(diameter " + geom.FormatFixed(u.From(2*radius), geom.Places(0, u)) + ")"
}

// arcTeller tells an arc's measurement.
type arcTeller struct {
	s *session.State // behind it
	e session.Worked
	u geom.Unit
}

func (t *arcTeller) length(mm float64) string {
	return fmt.Sprintf("%s %v", geom.FormatFixed(t.u.From(mm), geom.Places(0, t.u)), t.u)
}

// did puts what was measured into a line.
func (t *arcTeller) did(l *DidLine) {
	r := *t.e.Value
	nothing := record.Number(nan)
	x := &ArcDid{Diameter: record.Number(t.u.From(2 * r)), Expected: nothing, Error: nothing}
	l.Value, l.ArcDid = record.Number(t.u.From(r)), x
	first := fmt.Sprintf("%s: radius %s %s", t.e.Step, t.length(r), across(r, t.u))
	if by := t.byWay(x); by != "" {
		first = by
	}
	words := []string{first}
	if meant := t.s.Meant(t.e.Step); meant > 0 {
		x.Expected, x.Error = record.Number(t.u.From(meant)), record.Number(t.u.From(r-meant))
		words = append(words, t.against(x, meant)...)
	}
	if t.s.Set.Job.Cut != nil && t.e.Step == session.Measure {
		words = append(words, t.rough()...)
	}
	t.trial(x)
	l.text = strings.Join(append(words, x.Notes...), "; ")
}

// CutWords say what came of the newest measurement of the arc behind an accepted setting; empty where none was taken.
func CutWords(s *session.State, u geom.Unit) string {
	if !s.Accepted() {
		return ""
	}
	for i := len(s.Worked) - 1; i >= 0; i-- {
		if w := s.Worked[i]; w.Value != nil {
			l, t := DidLine{}, arcTeller{s, w, u}
			t.did(&l)
			return l.text
		}
	}
	return ""
}

// rough says what a measurement of the rough cut is not good for.
func (t *arcTeller) rough() []string {
	switch {
	case t.s.DoubtsCut():
		return []string{"that is farther off than setting and cutter leave open: measure once more, nothing is wound by it before two agree"}
	case t.s.BySetting():
		return []string{"the setting is known better than this measurement, so the last wind takes off what was left on"}
	case t.s.Gone():
		return []string{t.length(t.s.CutAway(*t.e.Value)) + " beyond its target already: that metal is gone, and no last wind is told"}
	}
	return nil
}

// byWay tells the radius by the way that it was measured in, with its doubt; nothing of a bare one.
func (t *arcTeller) byWay(x *ArcDid) string {
	a, way, ok := t.s.Gauged(&t.e)
	if !ok {
		return ""
	}
	x.Way, x.Radius, x.Figures = way.Name, record.ValueOf(t.u, a.Radius.Value()), map[string]record.Number{}
	var read []string
	for _, f := range t.e.By.Figures {
		x.Figures[f.Name] = record.Number(t.u.From(f.V))
		read = append(read, f.Name+" "+t.length(f.V))
	}
	for _, r := range a.Remarks {
		x.Notes = append(x.Notes, r.In(t.u))
	}
	if t.e.By.Assumed {
		x.Notes = append(x.Notes, fmt.Sprintf("each length on the work is taken as right within %s; say error E behind the "+
			"figures where it "+
			"is known better", t.length(t.e.By.Figures[0].Limit)))
	}
	return fmt.Sprintf("%s: radius %s %s by %s", t.e.Step, x.Radius.Text(t.u), across(*t.e.Value, t.u), strings.Join(read, ", "))
}

// against holds the radius against the one that was meant, and tells what should have been read.
func (t *arcTeller) against(x *ArcDid, meant float64) (words []string) {
	r, j := *t.e.Value, &t.s.Set.Job
	off := fmt.Sprintf("off by %s %v", geom.FormatSigned(t.u.From(r-meant), geom.Places(0, t.u)), t.u)
	switch {
	case t.e.Step == session.Measure && meant != j.Arc():
		words = append(words, fmt.Sprintf("with %s left on %s was expected, %s", t.length(math.Abs(meant-j.Arc())), t.length(meant), off))
	case t.e.Step == session.Measure:
		words = append(words, fmt.Sprintf("%s was expected, %s", t.length(meant), off))
	default:
		words = append(words, fmt.Sprintf("target %s, %s%s", t.length(meant), off, t.verdict(x, meant)))
	}
	if name, v, ok := t.s.ShouldHave(&t.e, meant); ok {
		x.Should = map[string]record.Number{name: record.Number(t.u.From(v))}
		words = append(words, fmt.Sprintf("%s should have been %s", name, t.length(v)))
	}
	return words
}

// verdict is what is proven of a finished arc: with the doubt of its measurement where its way tells that.
func (t *arcTeller) verdict(x *ArcDid, meant float64) string {
	tol := t.s.Set.Job.Target.Tolerance
	if !(tol > 0) {
		return ""
	}
	within := ": inside its tolerance of ±"
	if a, _, ok := t.s.Gauged(&t.e); ok {
		_, v, why := a.Judge(meant, tol)
		x.Verdict = &v
		for _, r := range why {
			x.Notes = append(x.Notes, r.In(t.u))
		}
		if within = ": " + v.String() + " its tolerance of ±"; v != indicator.Inside && v != indicator.Outside {
			within = ": the doubt of the measurement leaves it undecided against ±"
		}
	} else if math.Abs(*t.e.Value-meant) > tol {
		within = ": outside its tolerance of ±"
	}
	return within + t.length(tol)
}

// saidWays are the ways in which the arc that is asked for can be measured, as they are said.
func saidWays(s *session.State) (out []string) {
	for _, w := range s.Ways() {
		if w.Why == "" {
			out = append(out, w.Says)
		}
	}
	return out
}
