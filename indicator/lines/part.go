package lines

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

type (
	// PartLine begins the next part on the accepted setting.
	PartLine struct {
		Say   string `json:"say"`
		Part  int    `json:"part"`
		Sweep bool   `json:"sweep"`
		// Bracket says that the indicator stands on a bracket, and need not change places with the cutter.
		Bracket bool `json:"bracket"`
		// Trusted is how far off the centre of a part that is not swept is to be expected at most; null of one that is, and where
		// nothing says.
		Trusted record.Number `json:"trusted"`
		// Later says that the program was left since the part before.
		Later bool     `json:"later"`
		Notes []string `json:"notes"`
		text  string
	}
	// FixtureLine says what the parts so far show of the place to which the next ones return.
	FixtureLine struct {
		Say string `json:"say"`
		// Parts are those that were swept.
		Parts int `json:"parts"`
		// Move is how much farther every part lies than the one before, U95 its uncertainty along either coordinate; Spread is the
		// standard deviation of their places.
		Move   record.XY     `json:"move"`
		U95    record.Number `json:"u95"`
		Spread record.Number `json:"spread"`
		Walks  bool          `json:"walks"`
		// OutIn is in how many parts it is out of the centre's tolerance by the move so far, null where it is not; where Walks is false
		// that is not sure yet. Every how many parts on the next
		// sweep is due.
		OutIn *int `json:"out_in"`
		Every int  `json:"every"`
		text  string
	}
	// partLine is a line of a later part, whose number it carries.
	partLine struct {
		Line
		part int
	}
)

// Text: see [Line].
func (l PartLine) Text() string { return l.text }

// Text: see [Line].
func (l FixtureLine) Text() string { return l.text }

// Text names the part where the trial is named, which is counted anew in each.
func (l partLine) Text() string {
	switch l.Line.(type) {
	case SettledLine, AcceptedLine, ResumedLine:
		return fmt.Sprintf("part %d: %s", l.part, l.Line.Text())
	}
	return l.Line.Text()
}

// MarshalJSON puts the part's number behind all else.
func (l partLine) MarshalJSON() ([]byte, error) {
	b, err := json.Marshal(l.Line)
	if err != nil {
		return nil, err
	}
	return fmt.Appendf(b[:len(b)-1], `,"part":%d}`, l.part), nil
}

// OfPart is a line as it is said in a state: with the number of a later part.
func OfPart(s *session.State, l Line) Line {
	if _, itself := l.(PartLine); itself || s.Part < 2 {
		return l
	}
	return partLine{l, s.Part}
}

func ofPart(s *session.State, all []Line) []Line {
	for i := range all {
		all[i] = OfPart(s, all[i])
	}
	return all
}

var parted = told[session.Parted]{status: asText, undo: func(_ *session.State, e session.Parted, _ geom.Unit) string {
	return fmt.Sprintf("the start of part %d", e.Part)
}, lines: func(st session.Step, e session.Parted, u geom.Unit) []Line {
	s := &st.After
	l := PartLine{Say: "part", Part: e.Part, Sweep: e.Sweep, Bracket: e.Bracket, Trusted: record.Number(nan),
		Later: e.Later, Notes: []string{}}
	if !e.Sweep {
		l.Trusted = record.Number(u.From(s.Parts.Trusted))
		l.text = fmt.Sprintf("part %d %s", e.Part, TrustedWords(s, s.Parts.Trusted, u))
	} else {
		l.text = fmt.Sprintf("part %d: the same setting; a sweep says where its centre lies", e.Part)
		if !e.Bracket {
			l.Notes = append(l.Notes, "spindle off and isolated; the cutter out, the indicator in (part bracket where it stands on a bracket)")
		}
		l.Notes = append(l.Notes, CarriedWords(s, u)...)
	}
	if words := laterWords(s, e); words != "" {
		l.Notes = append(l.Notes, words)
	}
	l.Notes = append(l.Notes, Unseen)
	l.text += "; " + strings.Join(l.Notes, "; ")
	return []Line{l}
}}.row()

// Unseen is what no sweep of a later part sees.
const Unseen = "a part that is turned, or lies on a chip, no sweep sees: wipe the seat, feel beneath it, clock the edge"

// laterWords warn that nobody knows what was wound while the program was left; empty where it was not.
func laterWords(s *session.State, e session.Parted) string {
	switch {
	case !e.Later:
		return ""
	case s.Set.Job.Target.WantsSwing() && !s.SetUp().Does().Off:
		return "the program was left since: where the offset slide, head or table may have been moved, undo, and begin a new setting"
	case e.Sweep:
		return "the program was left since: the sweep shows where the centre is now"
	}
	return "the program was left since: where a slide, head or table may have been moved, undo, and sweep this part"
}

// TrustedWords say how far a part that is not swept is trusted.
func TrustedWords(s *session.State, trusted float64, u geom.Unit) string {
	switch tol := s.Set.Job.Target.CentreTolerance; {
	case math.IsInf(trusted, 0) || math.IsNaN(trusted):
		return "not swept: nothing says how far its centre may be off; sweep it, or state fixture_error under [part]"
	case tol > 0 && trusted > tol:
		return fmt.Sprintf(
			"not swept: trusted to %s only, more than the %s that its centre may be off; sweep it",
			long(trusted, u),
			long(tol, u),
		)
	}
	return "not swept: trusted to " + long(trusted, u)
}

// CarriedWords say that the radius of a later part is not seen by its sweep, and what it is known by; none where it sets none, or a
// slide sets it anew.
func CarriedWords(s *session.State, u geom.Unit) []string {
	switch c := s.Carried; {
	case s.Part < 2 && !s.Reswept || !s.Set.Job.Target.WantsSwing() || s.SetUp().Does().Off:
		return nil
	case c == nil:
		return []string{"radius carried over, not seen by this sweep"}
	case c.By == session.CarriedByArc:
		words := []string{"radius carried over, not seen by this sweep: swing " + record.ValueOf(u, c.Value).Text(u) +
			" by the first part's measured arc"}
		if long, _ := MeasuredUnsure(s); long != "" {
			words = append(words, long)
		}
		return words
	default:
		return []string{"radius carried over, not seen by this sweep: swing " + record.ValueOf(u, c.Value).Text(u)}
	}
}

// MeasuredUnsure says why a radius that the first part's arc measured is undecided, and what would help, and the why alone; empty where
// it is not undecided by that.
func MeasuredUnsure(s *session.State) (long, short string) {
	c := s.Carried
	if c == nil || c.By != session.CarriedByArc || c.Verdict != indicator.Undecided {
		return "", ""
	}
	if !c.Unstated {
		return "the doubt of that measurement leaves the radius undecided: measure a finished arc better",
			"the arc is measured too coarsely"
	}
	short = "nobody has said how well the arc was measured"
	return short + ", which leaves the radius undecided: measure a finished arc by a way that tells its doubt (chord, diameter, pins), or " +
		"state how well it is measured (cut.measured_error)", short
}

// fixture says what the parts so far show; none before the third.
func fixture(s *session.State, u geom.Unit) []Line {
	f := s.Fixture()
	if s.Part < 2 || f.Parts < 2 {
		return nil
	}
	l := FixtureLine{Say: "fixture", Parts: f.Parts, Move: *record.PlaceOf(f.Slope, u), U95: record.Number(u.From(f.SlopeU)),
		Spread: record.Number(u.From(f.Spread)), Walks: f.Walks, Every: s.Every(), text: FixtureWords(s, u)}
	if f.SlopeU == 0 {
		l.U95 = record.Number(nan)
	}
	if out, _, ok := s.HeadsOut(); ok {
		l.OutIn = &out
	}
	return []Line{l}
}

// FixtureWords say what the parts so far show of the fixture: whether it walks, how far, and in how many parts it is out; empty where
// fewer than two were swept.
func FixtureWords(s *session.State, u geom.Unit) string {
	f := s.Fixture()
	if f.Parts < 2 {
		return ""
	}
	due := "the next sweep is due for the next part"
	if n := s.Every(); n > 1 {
		due = fmt.Sprintf("the next sweep is due in %d parts", n)
	}
	out, may, ok := s.HeadsOut()
	heads := func() string {
		return fmt.Sprintf(
			"%s a part, out of ±%s in about %s",
			moveWords(f.Slope, u),
			long(s.Set.Job.Target.CentreTolerance, u),
			partsWords(out),
		)
	}
	switch {
	case may:
		return "the fixture may head out: " + heads() + "; one part more tells; look for chips at the stop; " + due
	case !f.Walks:
		return fmt.Sprintf(
			"fixture: %d parts swept, they return within %s of one place (one standard deviation); no drift is seen; %s",
			f.Parts,
			long(f.Spread, u),
			due,
		)
	}
	if ok {
		return "the fixture heads out: " + heads() +
			"; look for chips at the stop, a clamp that drags the part, a stop that is not tight; " + due
	}
	return fmt.Sprintf("the fixture walks: %s a part; %s", moveWords(f.Slope, u), due)
}

func partsWords(n int) string {
	if n == 1 {
		return "1 part"
	}
	return fmt.Sprintf("%d parts", n)
}

// moveWords name the coordinate that goes most, and the other where it goes at least half as much.
func moveWords(by geom.Point, u geom.Unit) string {
	name, one, other, two := "x", by.X, "y", by.Y
	if math.Abs(two) > math.Abs(one) {
		name, one, other, two = other, two, name, one
	}
	t := fmt.Sprintf("%s by %s", name, plus(one, u))
	if math.Abs(two) >= math.Abs(one)/2 {
		t += fmt.Sprintf(" and %s by %s", other, plus(two, u))
	}
	return t
}

// clockEdge is how the part's angle is looked at. Where no sweep follows, nothing would see a slide that does not come back.
func clockEdge(t *choreTeller) []string {
	if t.s.Unswept {
		return []string{"a feeler or a strip of paper between the part's edge and its stops: it slips in nowhere, or the part lies turned; " +
			"wind no slide, for this part is not swept", "a feeler at the stops: tight; wind nothing"}
	}
	return []string{"clock the part's edge along a cross slide: it runs true, or the part lies turned, which no sweep sees; then that slide " +
		"back to where it stood, come up to as before", "clock the edge along a cross slide, and back"}
}

// indicatorIn is how it comes in again: by its holder, or on its bracket, for the offset slide holds the radius.
func indicatorIn(t *choreTeller) []string {
	if t.s.Part > 1 && t.s.Bump == nil && (t.s.Bracketed || t.j.Batch().Bracket) {
		return []string{"swing the indicator in on its bracket, the needle about amid its range; cutter clear above the work; wind no slide",
			"swing the bracket in, wind nothing"}
	}
	return []string{"indicator into the spindle, quill and knee at the height of the sweep and locked, the needle about amid its " +
		"range by its holder; wind no slide", "indicator in at the sweep's height, wind nothing"}
}

// indicatorOut is how the indicator leaves: from a bracket it only swings clear.
func indicatorOut(t *choreTeller) []string {
	if t.s.Part > 1 && t.s.Bracketed {
		return []string{
			"swing the indicator on its bracket clear of the cut, and the drawbar's spanner off",
			"indicator clear, spanner off",
		}
	}
	return []string{"take the indicator out, and the drawbar's spanner off", "indicator out, spanner off"}
}
