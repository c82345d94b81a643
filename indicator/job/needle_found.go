package job

import (
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Needle is what the needle test of one slide came to, beside what is stated. Lengths are millimetres.
type Needle struct {
	// Stated is the slide as it is stated, in a file of Unit.
	Stated slide.Slide
	// Asked says that the machine is being asked for: its play is not stated, its sense may not be (0), and its travel is not where
	// Unstated says so.
	Asked, Unstated bool
	Unit            geom.Unit
	Found           slide.NeedleFound
	// ByEye is what the eye saw a clockwise turn do.
	ByEye slide.Way
	// Differ says that eye and needle do; nothing is proposed then.
	Differ bool
	// Said is what is to be known of the rounds: which were left out, and which reading does not go with the others.
	Said []string
	// Proposed are the changes of the machine's file that may be taken.
	Proposed []Change
}

// Change is a key of a machine file that gets another value.
type Change struct {
	Key string `json:"key"`
	// Was and Is are the value as the file has it; Was is empty where the key is new.
	Was string `json:"was"`
	Is  string `json:"is"`
	// Note is the comment that goes behind it, with the doubt; empty for none.
	Note string `json:"note,omitempty"`
}

// Needle are the tests that are done, in their order.
func (q Asking) Needle() (all []Needle) {
	for _, name := range q.given.needleSlides() {
		if n, done := q.given.needle(name); done {
			all = append(all, n)
		}
	}
	return all
}

// Changes are those of the machine's file that were proposed and taken.
func (q Asking) Changes() (all []Change) {
	for _, n := range q.Needle() {
		for _, t := range takeAsks {
			if q.given.word("needle."+n.Stated.Name+"."+t.key) == "true" {
				all = append(all, n.proposed(t.key)...)
			}
		}
	}
	return all
}

// needle judges the test of a slide; done is false where more is to be read.
func (a *answers) needle(name string) (n Needle, done bool) {
	t := a.needleTest(name)
	if !t.Done() || a.of("needle."+name+".eye") == nil {
		return n, false
	}
	_, u, _ := a.underTest(name)
	n = Needle{Stated: t.Slide, Asked: a.Machine == nil, Unstated: t.Unstated, Unit: u, Found: t.Found(), ByEye: slide.Decrease}
	if a.word("needle."+name+".eye") == slide.Increase.String() {
		n.ByEye = slide.Increase
	}
	n.Said = struck(&t)
	if said := a.misread(&t); said != "" {
		n.Said = append(n.Said, said)
	}
	n.Differ = n.Found.Sense && n.Found.Clockwise != n.ByEye
	if n.Found.Sense && !n.Differ {
		n.propose()
	}
	return n, true
}

// propose lists what may be taken. A sense takes its take_up with it, so that the hand's last way stays.
func (n *Needle) propose() {
	key := "slide." + n.Stated.Name + "."
	if n.Found.Clockwise != n.Stated.Clockwise {
		n.Proposed = append(n.Proposed,
			Change{Key: key + "clockwise", Was: quote(n.Stated.Clockwise.String()), Is: quote(n.Found.Clockwise.String()), Note: byNeedle},
			Change{Key: key + "take_up", Was: quote(n.Stated.TakeUp.String()), Is: quote((-n.Stated.TakeUp).String())})
	}
	if v := n.Found.Travel; v.Known() && math.Abs(v.V-n.Stated.TravelPerTurn) > v.U {
		n.Proposed = append(n.Proposed, n.change(key+"travel_per_turn", n.Stated.TravelPerTurn, v))
	}
	if v := n.Found.Backlash; v.Known() {
		_, limit := n.written(v)
		was := ""
		if n.Stated.BacklashLimit > 0 {
			was = n.plain(n.Stated.BacklashLimit)
		}
		n.Proposed = append(n.Proposed, n.change(key+"backlash", n.Stated.Backlash, v),
			Change{Key: key + "backlash_error", Was: was, Is: limit})
	}
}

// byNeedle is the comment behind a figure that was found.
const byNeedle = "found by the needle"

// change is a length's.
func (n *Needle) change(key string, was float64, is indicator.Value) Change {
	v, u := n.written(is)
	return Change{Key: key, Was: n.plain(was), Is: v, Note: byNeedle + ", ±" + u}
}

// written is a figure with its doubt as a file has them, to the places that the doubt allows; a round one stays as it is.
func (n *Needle) written(v indicator.Value) (value, doubt string) {
	places := geom.Places(n.Unit.From(v.U), n.Unit)
	value, doubt = geom.FormatFixed(n.Unit.From(v.V), places), geom.FormatFixed(n.Unit.From(v.U), places)
	if round := n.plain(v.V); len(round) <= len(value) {
		value = round
	}
	return value, doubt
}

// plain is a length in the file's unit, without the tail that a change of unit leaves.
func (n *Needle) plain(mm float64) string { return decimal(math.Round(n.Unit.From(mm)*1e9) / 1e9) }

// taken are what a question takes by the last part of their keys: a sense with its take_up, a play with its doubt.
var taken = map[string][]string{
	"take_clockwise":       {"clockwise", "take_up"},
	"take_travel_per_turn": {"travel_per_turn"},
	"take_backlash":        {"backlash", "backlash_error"},
}

// proposed are the changes that a question takes.
func (n *Needle) proposed(take string) (all []Change) {
	for _, c := range n.Proposed {
		if slices.Contains(taken[take], c.Key[strings.LastIndex(c.Key, ".")+1:]) {
			all = append(all, c)
		}
	}
	return all
}

// takeAsks ask whether what was found is taken; each only where there is something to take.
var takeAsks = []asks{
	{key: "take_clockwise", kind: yesNo, def: says("true"), when: proposes("take_clockwise"), text: takeText("take_clockwise"),
		help: takeHelp},
	{key: "take_travel_per_turn", kind: yesNo, def: says("true"), when: proposes("take_travel_per_turn"),
		text: takeText("take_travel_per_turn"), help: takeHelp},
	{key: "take_backlash", kind: yesNo, def: says("true"), when: proposes("take_backlash"), text: takeText("take_backlash"),
		check: withinOvershoot, help: takeHelp},
}

const takeHelp = "true writes it into the machine's file, with what it is known to behind it; false leaves the file as it is. Nothing else\n" +
	"in the file is touched, and nothing at all is written before the last answer."

func proposes(take string) func(a *answers, in string) bool {
	return func(a *answers, in string) bool {
		n, done := a.needle(needleName(in))
		return done && len(n.proposed(take)) > 0
	}
}

func takeText(take string) func(a *answers, in string) string {
	return func(a *answers, in string) string {
		n, _ := a.needle(needleName(in))
		var parts []string
		for _, c := range n.proposed(take) {
			part := c.Key + " = " + c.Is
			if c.Was != "" {
				part += " in place of " + c.Was
			}
			if c.Note != "" {
				part += " (" + c.Note + ")"
			}
			parts = append(parts, part)
		}
		return "take into the machine's file, figures in " + n.Unit.String() + ": " + strings.Join(parts, "; ")
	}
}

// withinOvershoot refuses a play that the stated overshoot does not take up: the file could not be read any more.
func withinOvershoot(a *answers, in string, g *Given) error {
	n, _ := a.needle(needleName(in))
	if over := n.Stated.Overshoot; g.toml == "true" && over > 0 && n.Found.Backlash.V >= over {
		return unfit("answer false, and put overshoot right in the file first", "the overshoot of %s %v that the file states does not "+
			"take that up", n.plain(over), n.Unit)
	}
	return nil
}
