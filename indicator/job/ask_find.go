package job

import (
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// FindIt is the answer to a figure of a slide that has the needle test find it, within the questions for the machine; "needle" is
// taken for it. What was found is then what Enter alone takes.
const FindIt = "find it by the needle"

// findWord is the short form of [FindIt].
const findWord = "needle"

// useKey is where that answer is kept, by the slide's table: one test is for all its figures.
func useKey(in string) string { return "needle." + strings.TrimPrefix(in, "slide.") + ".use" }

// ofTest says that a key is one of the test's, and no file's.
func ofTest(key string) bool { return strings.HasPrefix(key, "needle.") }

// offersNeedle says that the needle may still be asked to find what the row asks for.
func (p placed) offersNeedle(a *answers) bool {
	return p.finds && a.Machine == nil && a.of(useKey(p.in)) == nil
}

// takesNeedle reports whether an answer has the needle find it: in words, or by the number of a closed choice.
func (p placed) takesNeedle(a *answers, q *Question, text string) bool {
	if !p.offersNeedle(a) {
		return false
	}
	closed := q.Closed && text == decimal(float64(len(q.Choices)))
	return closed || strings.EqualFold(text, findWord) || strings.EqualFold(text, FindIt)
}

// slideRows are the questions about a slide of a machine that is asked for. Where the needle is to find some of it, what the test
// needs comes first, and what it found is then proposed.
func (a *answers) slideRows(name string) (out []placed) {
	in := "slide." + name
	if a.of(useKey(in)) != nil {
		marks := slices.IndexFunc(slideAsks, func(q asks) bool { return q.key == "divisions" })
		out = append(append(out, placed{&slideAsks[marks], in}), needleDialRows()...)
		if a.of(in+".divisions") != nil {
			out = append(out, a.needleRows(name)...)
		}
	}
	for i := range slideAsks {
		out = append(out, placed{&slideAsks[i], in})
	}
	return out
}

// asked is a slide of the machine that is asked for, as far as it is. A travel that is not known is planned with as one of the
// largest with these marks: a way is then rather too short for the dial than too long.
func (a *answers) asked(name string) (s slide.Slide, u geom.Unit, stated bool) {
	in, u := "slide."+name, a.unit()
	s = slide.Slide{Name: name}
	s.Divisions, _ = a.number(in + ".divisions")
	before := answers{Facts: a.Facts, all: a.all}
	if i := slices.IndexFunc(a.all, func(g Given) bool { return g.Key == useKey(in) }); i >= 0 {
		before.all = a.all[:i] // what is answered by what was found changes nothing of how it was found
	}
	travel, stated := before.number(in + ".travel_per_turn")
	if !stated {
		travel = s.Divisions * guessedMark[u]
	}
	s.TravelPerTurn = u.MM(travel)
	if w := before.word(in + ".clockwise"); w != "" {
		_ = s.Clockwise.UnmarshalText([]byte(w)) // it was taken as an answer
	}
	return s, u, stated
}

// guessedMark is what a mark of a collar is planned with that nobody knows, in its unit: common ones are worth at most 0.05 or 0.002
// (common practice, no source), and a fifth more leaves odd ones on the dial too.
var guessedMark = [...]float64{geom.Millimetre: 0.06, geom.Inch: 0.0024}

// foundOr is what the needle found for a key of a slide, as it may be typed; else what is said.
func (a *answers) foundOr(key, or string) string {
	name := strings.TrimPrefix(tableOf(key), "slide.")
	if a.Machine != nil || a.of(useKey("slide."+name)) == nil {
		return or
	}
	n, done := a.needle(name)
	if !done || !n.Found.Sense || n.Differ {
		return or
	}
	value, found := n.finding(lastPart(key))
	if !found {
		return or
	}
	return value
}

// foundSense is what the needle found a clockwise turn to do, in the words of the eye.
func foundSense(a *answers, in string) string {
	s := senseOf(in)
	return map[string]string{slide.Increase.String(): s.grows, slide.Decrease.String(): s.shrinks}[a.foundOr(in+".clockwise", "")]
}

// finding is what was found for a key, as it may be typed.
func (n *Needle) finding(key string) (text string, found bool) {
	switch v, u := n.Found.Travel, n.Found.Backlash; {
	case key == "clockwise":
		return n.Found.Clockwise.String(), true
	case key == "travel_per_turn" && v.Known():
		text, _ = n.written(v)
	case key == "backlash" && u.Known():
		text, _ = n.written(u)
	case key == "backlash_error" && u.Known():
		_, text = n.written(u)
	}
	return text, text != ""
}

// needleNote is the comment behind an answer that is what the needle found; empty where it is another.
func (a *answers) needleNote(g *Given) string {
	switch text := a.foundOr(g.Key, ""); {
	case text == "" || text != a.plainWord(g):
		return g.note
	case lastPart(g.Key) == "backlash":
		return byNeedle + ", ±" + a.foundOr(g.Key+"_error", "")
	}
	return byNeedle
}

// plainWord is what an answer writes, out of its quotes.
func (a *answers) plainWord(g *Given) string {
	now := answers{Facts: a.Facts, all: []Given{*g}}
	return now.word(g.Key)
}

// asFound says that the play is as the needle showed it.
func asFound(a *answers, in string) bool {
	g := a.of(in + ".backlash")
	return g != nil && strings.HasPrefix(g.note, byNeedle)
}
