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

type (
	// BiasLine says what the arcs so far propose for the swing radius: By is what it should be set larger by, null
	// where nothing is proposed, and Because why not.
	BiasLine struct {
		Say     string        `json:"say"`
		Arcs    int           `json:"arcs"`
		LeftOut int           `json:"left_out"`
		Metal   string        `json:"metal"`
		Swing   record.Number `json:"swing"`
		By      *record.Value `json:"by"`
		Because string        `json:"because"`
		Assumed Assumed       `json:"assumed"`
		text    string
	}
	// Assumed is what was taken where the job states nothing; null where it does.
	Assumed struct {
		Measured *record.Number `json:"measured_error"`
		Reach    *record.Number `json:"reach_error"`
		Cutter   *record.Number `json:"cutter_error"`
	}
	// BiasedLine says that the swing radius is set larger by By, to Swing.
	BiasedLine struct {
		Say   string        `json:"say"`
		Trial int           `json:"trial"`
		By    record.Number `json:"by"`
		Swing record.Number `json:"swing"`
		text  string
	}
)

// Text: see [Line].
func (l BiasLine) Text() string { return l.text }

// Text: see [Line].
func (l BiasedLine) Text() string { return l.text }

// Feedback says what the arcs so far propose for the open setting; nil where none was checked.
func Feedback(s *session.State, u geom.Unit) Line {
	fb, ok := s.Feedback()
	if !ok {
		return nil
	}
	some := func(mm float64) *record.Number {
		if mm == 0 {
			return nil
		}
		n := record.Number(u.From(mm))
		return &n
	}
	l := BiasLine{Say: "bias", Arcs: fb.Taken, LeftOut: len(fb.Odd) + fb.Other, Metal: fb.Side.String(),
		Swing: record.Number(u.From(s.Set.Job.Target.SwingRadius)), By: record.ValueOf(u, fb.By), Because: fb.Why,
		Assumed: Assumed{some(fb.Measured), some(fb.Reach), some(fb.Cutter)}}
	parts := append([]string{FeedbackWords(s, u)}, leftOut(&fb, u)...)
	if t := assumed(&fb, u); t != "" {
		parts = append(parts, t)
	}
	l.text = strings.Join(parts, "; ")
	return l
}

// FeedbackWords says in one sentence what the arcs so far propose, with its reason and its doubt; empty where none
// was checked.
func FeedbackWords(s *session.State, u geom.Unit) string {
	fb, ok := s.Feedback()
	if !ok {
		return ""
	}
	if fb.Taken == 0 {
		return "nothing is fed back: " + fb.Why
	}
	n := "1 arc"
	if fb.Taken > 1 {
		n = fmt.Sprintf("%d arcs", fb.Taken)
	}
	if fb.Why != "" {
		// What the other side is out by is known; it is no word about this one.
		v, _ := fb.Learnt.Correction(fb.Side.Other())
		return fmt.Sprintf("%s with the metal %s came out %s: held back for this arc, whose metal is %s, for an error of the swing "+
			"radius is not told apart from one of the cutter, and as the wrong one of the two it would come out double; check an arc of "+
			"this side, or state the limits of reach and cutter",
			n, fb.Side.Other(), outBy(v, u), fb.Side)
	}
	places := geom.Places(0, u)
	to, by := s.Set.Job.Target.SwingRadius, fb.By.V
	t := fmt.Sprintf("%s so far came out %s", n, outBy(fb.By, u))
	if by == 0 {
		return t + ": nothing to correct"
	}
	return fmt.Sprintf("%s: set %s %v (%s); correction takes it up", t, signedSum(u.From(to), u.From(by), places), u,
		geom.FormatFixed(u.From(to+by), places))
}

// outBy says how far arcs are out whose swing radius should be set larger by v.
func outBy(v indicator.Value, u geom.Unit) string {
	word := "big"
	if v.V > 0 {
		word = "small"
	}
	return record.Measured(u, indicator.Value{V: math.Abs(v.V), U: v.U}) + " " + word
}

// signedSum is a sum as it is written: "42.000 - 0.018".
func signedSum(to, by float64, places int) string {
	sign := "+"
	if by < 0 {
		sign = "-"
	}
	return geom.FormatFixed(to, places) + " " + sign + " " + geom.FormatFixed(math.Abs(by), places)
}

// leftOut says which arcs were not learnt from.
func leftOut(fb *session.Feedback, u geom.Unit) (out []string) {
	for _, f := range fb.Odd {
		if f.Unsure {
			out = append(out, "an arc of no known doubt is left out")
			continue
		}
		size := func(mm float64) string { return geom.FormatFixed(math.Abs(u.From(mm)), geom.Places(0, u)) }
		out = append(out, fmt.Sprintf("an arc off by %s %v from what was expected is left out, need it within %s: measured wrong, "+
			"or a limit "+
			"stated too tight", size(f.Off), u, size(f.Band)))
	}
	if fb.Other > 0 && fb.Taken > 0 {
		out = append(out, fmt.Sprintf("%d made by other means left out", fb.Other))
	}
	return out
}

// assumed says what was taken for granted, and the key that says otherwise; empty for nothing.
func assumed(fb *session.Feedback, u geom.Unit) string {
	var parts []string
	add := func(mm float64, form string) {
		if mm != 0 {
			parts = append(parts, fmt.Sprintf(form, geom.FormatFixed(u.From(mm), geom.Places(0, u)), u))
		}
	}
	add(fb.Measured, "an arc is measured to %s %v (cut.measured_error)")
	add(fb.Reach, "the reach is good to %s %v either way (setup.reach_error)")
	add(fb.Cutter, "the cutter to %s %v (cut.cutter_error)")
	if len(parts) == 0 {
		return ""
	}
	return "not stated, so taken: " + strings.Join(parts, ", ")
}

// BiasWords says how far the swing radius is set beside the job's; empty where it is not.
func BiasWords(s *session.State, u geom.Unit) string {
	if s.Set == nil || s.Bias.By == 0 {
		return ""
	}
	return signedSum(u.From(s.Set.Job.Target.SwingRadius), u.From(s.Bias.By), geom.Places(0, u))
}

var biased = told[session.Biased]{status: figures, undo: func(_ *session.State, e session.Biased, u geom.Unit) string {
	return "the correction of the swing radius, " + plus(e.By, u)
}, lines: func(st session.Step, e session.Biased, u geom.Unit) []Line {
	return []Line{biasedLine(&st.After, e, u)}
}}.row()

// biasedLine repeats the bias that was taken up. What is set by a person's own figure, where the arcs say nothing of
// this side, is said to be that.
func biasedLine(s *session.State, e session.Biased, u geom.Unit) Line {
	to, places := s.Target().SwingRadius, geom.Places(0, u)
	l := BiasedLine{Say: "biased", Trial: s.Trial, By: record.Number(u.From(e.By)), Swing: record.Number(u.From(to))}
	if e.By == 0 {
		l.text = fmt.Sprintf("the swing radius is not corrected: %s %v", geom.FormatFixed(u.From(to), places), u)
		return l
	}
	l.text = fmt.Sprintf("the swing radius is corrected: %s = %s %v", BiasWords(s, u), geom.FormatFixed(u.From(to), places), u)
	if fb, ok := s.Feedback(); ok && fb.Why != "" {
		l.text += fmt.Sprintf("; your own figure: the arcs so far say nothing of metal %v the arc", fb.Side)
	}
	return l
}
