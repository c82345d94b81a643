package job

import (
	"cmp"
	"fmt"
	"strings"

	"example.org/trammel/geom"
)

// shortWords say a key in few words where those of the key itself, or of its table, would not.
var shortWords = map[string]string{
	"setup.kind": "set-up", "setup.reference_form_error": "how round it is", "keep_as": "keep as",
	"setup.reference_radius_error": "reference known by", "setup.reach_error": "reach known by",
	"cut.cutter_error": "cutter known by", "setup.touch": "what is touched", "cut.cutter": "cutter diameter", "cut.metal": "metal stays",
	"cut.stock": "stock left on", "cut.depth": "cut to a depth of", "cut.step": "deep in a pass", "cut.spring": "spring pass",
	"cut.entry": "cutter goes down", "target.set_off_by": "set off by",
	"gauge": "cable indicator", "gauge.source": "found at", "gauge.mode": "it sends",
}

// shortTables are the tables whose name says something of a key; of others the key says enough.
var shortTables = map[string]string{"dial": "dial ", "head": "head ring ", "table": "table ring "}

// shortEnds are the same of keys that stand in several tables.
var shortEnds = map[string]string{"clockwise": "clockwise turn", "take_up": "last movement", "travel": "travel, both ends",
	"zero": "shows 0 at", "readout": "has a readout", "lock": "is clamped", "divisions": "marks"}

// eyes are whose eye sees a turn, behind an answer that is one.
var eyes = map[string]string{"take_up": ", facing the handle", "sense": " as it turns anticlockwise, seen from above"}

// Short says in few words what is asked, for large letters and for lists: X travel per turn.
func (q *Question) Short() string { return short(q.Key) }

func short(key string) string {
	if ofTest(key) {
		return needleShort(key)
	}
	if w, ok := shortWords[key]; ok {
		return w
	}
	table, end := tableOf(key), key[strings.LastIndex(key, ".")+1:]
	words, ok := shortEnds[end]
	if !ok {
		words = strings.ReplaceAll(end, "_", " ")
	}
	if slide, ok := strings.CutPrefix(table, "slide."); ok {
		return SlideWords(slide) + " " + words
	}
	return shortTables[table] + words
}

// SlideWords is how a slide is called: X and Y as on the machine.
func SlideWords(name string) string {
	switch name {
	case "x", "y":
		return strings.ToUpper(name)
	case "table_x":
		return "table X"
	case "table_y":
		return "table Y"
	}
	return name
}

// Answered is one answer as it is shown: in few words, with its unit.
type Answered struct {
	Short, Answer string
	// Aside says that it only led to a figure, which tells more.
	Aside bool
}

// Answered are the answers so far, in their order: figures as they are written, the rest as it was answered.
func (q Asking) Answered() (out []Answered) {
	asked := map[string]Question{}
	for _, p := range q.form.rows(&q.given) {
		now := Question{Key: p.path(), Out: p.out}
		p.kind.describe(&q.given, &now)
		asked[now.Key] = now
	}
	for i := range q.given.all {
		g := &q.given.all[i]
		a, is := Answered{short(g.Key), g.Typed, g.aside || ofTest(g.Key) || len(g.also) > 0}, asked[g.Key]
		unit := ""
		if is.Unit != "" && !is.Closed {
			unit = " " + is.Unit
		}
		switch {
		case g.later:
			a.Answer = q.given.foundWords(g.Key, unit)
		case g.Typed == Unknown && g.toml != "":
			a.Answer = "not known: " + g.toml + unit + ", a guess"
		case g.Typed == Unknown:
			a.Answer = cmp.Or(is.Out, "not known")
		case is.Across && g.note != "":
			a.Answer = g.toml + unit + " (" + g.note + ")"
		case is.Numeral && g.toml != "":
			a.Answer = g.toml + unit
		default:
			a.Answer += unit + eyes[g.Key[strings.LastIndex(g.Key, ".")+1:]]
		}
		out = append(out, a)
	}
	return out
}

// foundWords tell a figure that is found here, with what its doubt is where that is known.
func (a *answers) foundWords(key, unit string) string {
	v := a.foundAs(key)
	if v == "" {
		return FindHere
	}
	if limit := a.foundAs(key + "_error"); limit != "" {
		v += " ±" + limit
	}
	return v + unit + ", found"
}

// Cuts says which arc is cut, by the swing radius and the cutter; empty where that does not follow from the answers, or the plan
// of a drawing says it.
func (q Asking) Cuts() string {
	a := &q.given
	if a.Drawing { // what the arcs share is answered for a swing radius that nobody stated
		return ""
	}
	swing, ok := a.number("target.swing_radius")
	cutter, cuts := a.number("cut.cutter")
	metal := a.word("cut.metal")
	if !ok || !cuts || metal == "" {
		return ""
	}
	half, less := cutter/2, "less"
	if metal == "outside" {
		half, less = -half, "and"
	}
	return fmt.Sprintf("arc cut: radius %s %v (%s %s half the cutter), metal %s", decimal(rounded(swing-half, 6)), a.unit(),
		decimal(swing), less, metal)
}

// Doubt says why an answer to what is asked now is likely to be a slip, though it can be taken; empty where it is not.
func (q Asking) Doubt(entry string) string {
	p, ok := q.next()
	if !ok || p.doubts == nil {
		return ""
	}
	v, err := geom.ParseLength(entry, q.given.unit())
	if err != nil {
		return ""
	}
	return p.doubts(&q.given, p.in, v)
}

// Begun reports whether there is an answer that can be taken back.
func (q Asking) Begun() bool { return len(q.given.all) > q.fixed }

// DontKnow is the choice of whoever cannot say how right a figure is.
const DontKnow = dontKnow

// LineWords say what may be typed at every question where answers are lines.
const LineWords = Explain + " explains; " + Back + " goes to the question before"
