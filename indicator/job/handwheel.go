package job

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// leastWheel and mostWheel bound what one turn of a handwheel turns its table by, degrees: the worms of rotary tables make 2° to 9° a
// turn (common practice, no source); what is far beyond is a slip, and would make more turns than can be counted.
const leastWheel, mostWheel = 0.01, 90

// handwheel reads a table's own handwheel. What one turn does says that there is one; the way that it goes and its play are needed
// then, for nothing is counted on it without.
func (f *file) handwheel(r *rawTable) (h setup.Handwheel) {
	if r.Handwheel == nil {
		for _, other := range []struct {
			key   string
			given bool
		}{{"handwheel_clockwise", r.Clockwise != nil}, {"handwheel_divisions", r.Divisions != nil}, {"worm_play", r.WormPlay != nil}} {
			if other.given {
				f.fail("table."+other.key, "", "given without handwheel, need the degrees that one turn of it turns the table by")
			}
		}
		return h
	}
	const a = "table."
	turn := func(x float64) bool { return x >= leastWheel && x <= mostWheel }
	h.Turn = float64(geom.FromDegrees(f.number(a+"handwheel", r.Handwheel, 0, turn, "from 0.01 to 90 degrees a turn")))
	f.word(a+"handwheel_clockwise", r.Clockwise, &h.Clockwise,
		"increase or decrease (what a turn clockwise, facing the handle, does to the figures of the table's ring)")
	whole := func(x float64) bool { return x >= 1 && x <= 10000 && x == math.Trunc(x) }
	h.Divisions = f.number(a+"handwheel_divisions", r.Divisions, 0, whole, "a whole number of marks from 1 to 10000")
	most, need := *r.Handwheel, fmt.Sprintf("0 or above and less than one turn of the handwheel, %v degrees", *r.Handwheel)
	if !f.fine(a + "handwheel") {
		most, need = math.Inf(1), "0 degrees or above"
	}
	play := func(x float64) bool { return x >= 0 && x < most }
	h.Play = float64(geom.FromDegrees(f.need(a+"worm_play", r.WormPlay, play, need)))
	return h
}

// handwheelAsks are the questions about a table's own handwheel.
var handwheelAsks = []asks{
	{key: "handwheel", kind: number{unit: inDegrees}, optional: always,
		text: says("how many degrees one turn of the table's own handwheel turns it by"),
		help: "360 divided by the turns that it takes for once round: 90 turns make 4 degrees. A table that is turned by hand has none."},
	{key: "handwheel_clockwise", when: wheeled,
		kind: among(choice{words: "grow", toml: quote(slide.Increase.String()), or: slide.Increase.String()},
			choice{words: "fall", toml: quote(slide.Decrease.String()), or: slide.Decrease.String()}),
		text: says("turn the table's handwheel a little clockwise, facing the handle: do the figures at its ring's mark grow, or fall"),
		help: "With it, stations and stops are told as turns of that handle too."},
	{key: "handwheel_divisions", kind: number{unit: inNothing}, optional: always, when: wheeled,
		text: says("how many marks the collar of the table's handwheel has, all the way round"),
		help: "Without it what goes beyond whole turns is told in degrees of the table."},
	{key: "worm_play", kind: number{unit: inDegrees}, when: wheeled, def: guessedPlay,
		text: says("how much play the table's worm has, in degrees of the table"),
		help: "How far the handle turns, as degrees of the table, before the table follows when the way is changed. Where you don't\n" +
			"know, a guess on the large side will do: it only makes the handle go back farther. It is less than one turn."},
}

// wheeled says that the table has a handwheel.
func wheeled(a *answers, in string) bool { _, ok := a.number(in + ".handwheel"); return ok }

// guessedPlay is taken of a play that nobody knows: an eighth of a turn, on the large side (common practice, no source).
func guessedPlay(a *answers, in string) string {
	turn, _ := a.number(in + ".handwheel")
	return decimal(turn / 8)
}
