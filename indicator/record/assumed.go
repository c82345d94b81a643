package record

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
)

// Assumed is on which figures an answer leans that nobody has stated, and what its verdicts leave for them.
type Assumed struct {
	Exact []string `json:"assumed_exact"`
	Room  Room     `json:"room"`
	words verdictWords
	ifs   []string // both where they lean on something
}

// Room is tolerance − |off| − U of a verdict; null where nothing is assumed.
type Room struct {
	Radius Number `json:"radius"`
	Centre Number `json:"centre"`
}

// Leans is what an answer leans on, in the terms of a fit or of an arc.
type Leans struct {
	On   indicator.Assumed
	Room indicator.Room
}

// NoLeans is of an answer that leans on nothing.
var NoLeans = Leans{Room: indicator.NoRoom}

// LeansOf is of what stands in a session, where its sweep was fitted as f.
func LeansOf(s *session.State, f *indicator.Estimate) Leans { return Leans{s.Assumed(f), s.Room(f)} }

// AssumedOf puts what verdicts lean on into unit u.
func AssumedOf(l Leans, v indicator.Verdicts, u geom.Unit) Assumed {
	a := Assumed{Exact: l.On.Names(), Room: Room{Number(u.From(l.Room.Radius)), Number(u.From(l.Room.Centre))}}
	a.words.radius, a.words.centre = l.VerdictWords(v, u)
	a.ifs = l.Sentences(v, u)
	return a
}

// RadiusWords is the radius's verdict with its "if", CentreWords the centre's.
func (a *Assumed) RadiusWords() string { return a.words.radius }

// CentreWords: see [Assumed.RadiusWords].
func (a *Assumed) CentreWords() string { return a.words.centre }

// Sentences are the verdicts that lean on something, each with its "if"; none where none does.
func (l Leans) Sentences(v indicator.Verdicts, u geom.Unit) (out []string) {
	radius, centre := l.VerdictWords(v, u)
	for _, x := range []struct {
		of, words string
		v         indicator.Verdict
	}{{"radius", radius, v.Radius}, {"centre", centre, v.Centre}} {
		if x.words != x.v.Words() {
			out = append(out, x.of+" "+x.words)
		}
	}
	return out
}

// Short is what the first verdict that leans on something does so on, without what to do; unsaid is what nobody has said where
// one is held back for that.
func (l Leans) Short(v indicator.Verdicts, u geom.Unit) (short, unsaid string) {
	for _, x := range []struct {
		on   func(indicator.Assumed) (indicator.Assumed, float64)
		v    indicator.Verdict
		room float64
	}{{indicator.Assumed.Radius, v.Radius, l.Room.Radius}, {indicator.Assumed.Centre, v.Centre, l.Room.Centre}} {
		on, most := x.on(l.On)
		if w := asLong(x.v, on, x.room/most, x.room, u); w != "" && x.v == indicator.Inside && short == "" {
			short = w
		} else if w != "" && x.v == indicator.Undecided && unsaid == "" {
			unsaid = nobody(on)
		}
	}
	return short, unsaid
}

// verdictWords are both verdicts, each with its "if".
type verdictWords struct{ radius, centre string }

// mostNamed is how many figures are named to a person: who is told of more finds none of them out.
const mostNamed = 2

// VerdictWords are both verdicts, each with what it leans on: "inside as long as the reach is right within 0.016 mm; nobody has
// said how right it is. Spin the reach, or leave stock and measure the first arc". Of both together no more than two figures
// are named; the centre's are left out where the radius's are others, unless they are what decides.
func (l Leans) VerdictWords(v indicator.Verdicts, u geom.Unit) (radius, centre string) {
	on, most := l.On.Radius()
	radius = asLong(v.Radius, on, l.Room.Radius/most, l.Room.Radius, u)
	told := radius != ""
	if radius += tail(v.Radius, on, told); !told {
		radius = v.Radius.Words()
	}
	also, most := l.On.Centre()
	centre = asLong(v.Centre, also, l.Room.Centre/most, l.Room.Centre, u)
	switch same := named(on) == named(also); {
	case centre == "" || (told && !same && v.Centre == indicator.Inside):
		return radius, v.Centre.Words()
	case !told || !same:
		centre += tail(v.Centre, also, true)
	}
	return radius, centre
}

// asLong says how right the figures have to be for a verdict to stand; empty where it leans on none.
func asLong(v indicator.Verdict, on indicator.Assumed, within, room float64, u geom.Unit) string {
	form := "inside as long as %s within %s %v"
	switch {
	case len(on) == 0:
		return ""
	case indicator.HeldBack(v, room):
		form = "undecided: inside only as long as %s within %s %v"
	case v != indicator.Inside || !(room >= 0):
		return ""
	}
	are := "the " + on[0].Words + " is right"
	if len(on) > 1 {
		are = named(on) + " together are right"
	}
	return fmt.Sprintf(form, are, atMost(within, u), u)
}

// atMost prints a length rounded down: what it promises is not to be more than there is.
func atMost(mm float64, u geom.Unit) string {
	places := geom.Places(0, u)
	by := math.Pow10(places)
	return geom.FormatFixed(math.Floor(u.From(mm)*by+1e-6)/by, places)
}

// tail is what follows: that nobody has said it, and what to do.
func tail(v indicator.Verdict, on indicator.Assumed, told bool) string {
	if !told {
		return ""
	}
	do := cure(on)
	if v == indicator.Undecided {
		do = cureStated(on)
	}
	it := "it is"
	if len(on) > 1 {
		it = "they are"
	}
	return "; nobody has said how right " + it + ". " + strings.ToUpper(do[:1]) + do[1:]
}

// named are the first two figures.
func named(on indicator.Assumed) string {
	var words []string
	for i := range min(len(on), mostNamed) {
		words = append(words, on[i].Words)
	}
	return strings.Join(words, " and ")
}

// cure is what makes the first of them known.
func cure(on indicator.Assumed) string {
	if on[0].Arc {
		return on[0].Cure + ", or leave stock and measure the first arc"
	}
	return on[0].Cure
}

// cureStated is cure where the limit has to be stated for anything to be decided.
func cureStated(on indicator.Assumed) string {
	do := on[0].Cure + " and state its limit (" + on[0].Key + ")"
	if on[0].Arc {
		do += ", or leave stock and measure the first arc"
	}
	return do
}

// LimitsAssumed puts what a radius leans on in front of what limits it; limits alone where it leans on nothing.
func LimitsAssumed(a indicator.Assumed, limits string) string {
	on, _ := a.Radius()
	if len(on) == 0 {
		return limits
	}
	t := Largest("the "+named(on)+", of which nobody has said how right it is", on[0].Cure)
	if len(on) > 1 {
		t = Largest(named(on)+", of which nobody has said how right they are", on[0].Cure)
	}
	if limits != "" {
		t += "; then " + strings.TrimPrefix(limits, largest)
	}
	return t
}

// nobody says of which figures it has not been said how right they are.
func nobody(on indicator.Assumed) string {
	if len(on) == 1 {
		return "nobody has said how right the " + on[0].Words + " is"
	}
	return "nobody has said how right " + named(on) + " are"
}
