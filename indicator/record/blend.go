package record

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// Blends is what is foretold of the steps of a part: lengths in its unit.
type Blends struct {
	Unit   geom.Unit  `json:"unit"`
	Part   string     `json:"part"`
	Arcs   []BlendArc `json:"arcs"`
	Blends []Blended  `json:"blends"`
	Worst  *int       `json:"worst"` // of the blends, from 0; null where no step is foretold
	Advice []BlendAim `json:"advice"`
	// Exact are the figures that settings made so far lean on and that nobody has stated; all share them.
	Exact []string `json:"assumed_exact"`
	Notes []string `json:"notes"`
}

// BlendArc is how far an arc is, by which journal. Swing is what its accepted setting found.
type BlendArc struct {
	N       int           `json:"n"`
	State   part.Standing `json:"state"`
	Journal string        `json:"journal"` // empty where none is accepted
	Swing   *Value        `json:"swing"`
}

// Blended is the step at one blend, + where the first element stands prouder of the metal; null where none is
// foretold. Readout is At as the readout shows it, from the datum. After is the step with the advice taken.
type Blended struct {
	Between [2]int `json:"between"`
	At      Place  `json:"at"`
	Readout Place  `json:"readout"`
	Tangent bool   `json:"tangent"`
	Step    *Value `json:"step"`
	Prouder *int   `json:"prouder"` // number of the element, null where neither is
	After   *Value `json:"after"`
}

// BlendAim is what a setting to come is to be aimed at: Radius is by how much beside its figure, Swing the
// swing radius that comes to, Centre the centre error to leave.
type BlendAim struct {
	Arc    int    `json:"arc"`
	Radius Number `json:"radius"`
	Swing  Number `json:"swing"`
	Centre Place  `json:"centre"`
	AtEdge bool   `json:"at_edge"` // half the tolerance holds it back from more
}

// Text spells the record for a person.
func (x Blends) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: steps at its blends, lengths in %v", x.Part, x.Unit)
	for i := range x.Arcs {
		fmt.Fprintf(&b, "\n%s", x.Arcs[i].text(x.Unit))
	}
	for i := range x.Blends {
		fmt.Fprintf(&b, "\nblend %s", x.Words(i))
	}
	if w := x.WorstWords(); w != "" {
		fmt.Fprintf(&b, "\nworry most about blend %s", w)
	}
	for _, a := range x.Advice {
		fmt.Fprintf(&b, "\nadvice: %s", x.aim(a))
	}
	if len(x.Advice) > 0 {
		for i := range x.Blends {
			if s := &x.Blends[i]; s.Step != nil && !tiny(float64(s.Step.Value-s.After.Value), x.Unit) {
				fmt.Fprintf(&b, "\n  blend %s: %s now, %s with the advice taken", s.name(), signedIn(x.Unit, *s.Step),
					signedIn(x.Unit, *s.After))
			}
		}
	}
	return b.String() + noteLines(x.Notes)
}

func (a *BlendArc) text(u geom.Unit) string {
	s := fmt.Sprintf("arc %d: %s", a.N, a.State)
	switch a.State {
	case part.IsSet:
		s += " (accepted)"
	case part.IsCut:
		s += ", not measured"
	case part.Checked:
		s += ", inside its tolerance"
	case part.Out:
		s += " of its tolerance"
	case part.ToDo:
	}
	if a.Swing != nil {
		s += ", swing radius " + a.Swing.Text(u)
	}
	if a.Journal != "" {
		s += ", by " + a.Journal
	}
	return s
}

func (s *Blended) name() string { return fmt.Sprintf("%d to %d", s.Between[0], s.Between[1]) }

// Words spell a blend: where it is, its step and which stands proud.
func (x *Blends) Words(i int) string {
	s := &x.Blends[i]
	where := fmt.Sprintf("%s at %s, %s", s.name(), plain(s.At[0], x.Unit), plain(s.At[1], x.Unit))
	if s.Readout != s.At {
		where += fmt.Sprintf(" (readout %s, %s)", plain(s.Readout[0], x.Unit), plain(s.Readout[1], x.Unit))
	}
	switch {
	case !s.Tangent:
		return where + ": a corner, no step"
	case s.Step == nil:
		return where + ": tangent, no step is foretold: one of them has no swing radius or no side"
	}
	return where + ": tangent, step " + signedIn(x.Unit, *s.Step) + ", " + s.Proud()
}

// Proud says which element stands proud of the other, and whether that is sure.
func (s *Blended) Proud() string {
	switch {
	case s.Prouder == nil:
		return "neither proud"
	case math.Abs(float64(s.Step.Value)) > float64(s.Step.U95):
		return fmt.Sprintf("%d proud", *s.Prouder)
	}
	return fmt.Sprintf("%d perhaps proud", *s.Prouder)
}

// WorstWords name the blend to worry about most, with its figure; empty where there is none.
func (x *Blends) WorstWords() string {
	if x.Worst == nil {
		return ""
	}
	s := &x.Blends[*x.Worst]
	return fmt.Sprintf("%s: step %s, %s", s.name(), signedIn(x.Unit, *s.Step), s.Proud())
}

// aim spells an aim: the way and by how much.
func (x *Blends) aim(a BlendAim) string {
	places := geom.Places(0, x.Unit)
	var said []string
	if r := float64(a.Radius); !tiny(r, x.Unit) {
		way := "larger"
		if r < 0 {
			way = "smaller"
		}
		said = append(said, fmt.Sprintf("swing radius %s %s, to %s (correction %s)", geom.FormatFixed(math.Abs(r), places), way,
			geom.FormatFixed(float64(a.Swing), places), geom.FormatSigned(r, places)))
	}
	if cx, cy := float64(a.Centre[0]), float64(a.Centre[1]); !tiny(math.Hypot(cx, cy), x.Unit) {
		away := geom.Point{X: -cx, Y: -cy}.Bearing()
		said = append(said, fmt.Sprintf("leave the centre at x %s, y %s (the axis off by %s towards %s)", geom.FormatSigned(cx, places),
			geom.FormatSigned(cy, places),
			geom.FormatFixed(math.Hypot(cx, cy), places), Angle(Number(away.Degrees()))))
	}
	s := fmt.Sprintf("arc %d: %s %v", a.Arc, strings.Join(said, "; "), x.Unit)
	if a.AtEdge {
		s += "; more would be better, but half the tolerance is left for the setting itself"
	}
	return s
}

// tiny reports whether a length would be printed as 0.
func tiny(v float64, u geom.Unit) bool {
	return math.Abs(v) < 0.5*math.Pow10(-geom.Places(0, u))
}
