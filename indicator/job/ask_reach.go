package job

import (
	"errors"
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// The ways of finding a reach that are asked about here; trammel reach knows more.
const (
	bySpinRing = "spin the spindle in a ring"
	bySpinPlug = "spin the spindle round a plug"
	byPair     = "swing in a ring, then half a turn of the spindle and round a plug"
)

// fewestPlaces to mostPlaces is at how many places round is read: of three nothing is left to tell how sure they are.
const (
	fewestPlaces = 3
	mostPlaces   = 8
)

// reachAsks find the reach, or ask how well the one that was answered is known.
var reachAsks = func() []asks {
	out := []asks{
		{key: "reach_way", kind: words("in", "out"), aside: true, when: findsReach, def: likelyWay,
			text: says("on which side of the spindle the tip stands in the sweep: in, towards the head's or table's axis, or out, " +
				"away from it"), help: `in                              out
  axis +------<|--( )              axis +------( )--|>
                 spindle                     spindle`},
		{key: "reach_by", kind: choices(reachWays), aside: true, when: findsReach, def: func(a *answers, _ string) string {
			return reachWays(a, "")[0].words
		}, text: says("how the reach is to be found; spindle off and isolated, turned by hand"), help: reachHelp},
	}
	for i, round := range [2]string{"ring", "plug"} {
		uses := func(a *answers, _ string) bool { return findsReach(a, "") && a.usesRound(i) }
		out = append(out,
			asks{key: "reach_" + round, kind: radius{}, aside: true, when: uses, check: aboveZero,
				text: says("the radius of the " + round + " that the tip runs on (d before it says that it is the diameter)"),
				help: "Ground and round; it need not stand true to the axis."},
			asks{key: "reach_" + round + "_error", kind: limit{ways: ways(refKnown), half: true}, aside: true, when: uses,
				optional: always, def: says(refKnown[0].words), help: limitHelp,
				text: says("how the diameter of the " + round + " is known")},
			asks{key: "reach_" + round + "_places", kind: number{unit: inNothing}, aside: true, when: uses, def: says("4"),
				check: placesFit, text: says(fmt.Sprintf("at how many places round the %s is read, evenly spaced, %d to %d", round, fewestPlaces, mostPlaces)),
				help: "Four are a quarter of a turn apart. More of them tell more surely."})
		for n := range mostPlaces {
			out = append(out, asks{key: fmt.Sprintf("reach_%s_%d", round, n+1), kind: dialReading, aside: true, check: dialShows,
				when: func(a *answers, in string) bool { return uses(a, in) && n < a.places(round) },
				text: func(a *answers, _ string) string { return reachReading(a, round, n) }, help: reachHelp})
		}
	}
	out = append(out,
		asks{key: "reach_found", kind: reachTaken, when: findsReach, def: says(takeIt), text: reachTaken.shown, help: reachHelp},
		asks{key: "reach_error", lasts: sameSeat, kind: limit{ways: ways(reachKnown)}, optional: always, said: true, def: reachUsually,
			when: func(a *answers, in string) bool { return reachGiven(a, in) && a.foundAs("setup.reach_error") == "" },
			text: says("how the reach is known"), help: limitHelp})
	for i := range out {
		out[i].ofArc, out[i].with = true, "setup.reach"
	}
	return out
}()

const reachHelp = `The head stands still, and the cutter spindle is turned by hand, the indicator in it, its tip running in a ring or on a
plug: whichever the same side of the ball touches as in the sweep. The other way leaves the slide alone: the head is swung
in a ring, then the spindle is turned half round and the head swung round a plug.

   ring, tip presses outwards      plug, tip presses inwards
        .------.                        .--.
       /  o-->| \                   o-->( + )
       \______/                         '--'`

func findsReach(a *answers, _ string) bool { return byReach(a, "") && a.finds("setup.reach") }

// likelyWay is the way that the reach points with which the dial would read about zero at the target.
func likelyWay(a *answers, _ string) string {
	if z, ok := zeroReach(a, ""); ok && z > 0 {
		return "out"
	}
	return "in"
}

// way and touch are what was answered.
func (a *answers) way() indicator.Way {
	if a.word("setup.reach_way") == "in" {
		return indicator.TipIn
	}
	return indicator.TipOut
}

func (a *answers) touch() (t indicator.Touch) {
	_ = t.UnmarshalText([]byte(a.word("setup.touch"))) // else a bore
	return t
}

// reachWays are those that serve: the wrong round would put a whole diameter of the ball into the reach.
func reachWays(a *answers, _ string) []choice {
	spin := choice{words: bySpinRing, toml: `"ring"`}
	if indicator.RoundFor(a.touch(), a.way()) == indicator.Plug {
		spin = choice{words: bySpinPlug, toml: `"plug"`}
	}
	return []choice{spin, {words: byPair, toml: `"pair"`}}
}

// usesRound says whether a ring (0) or a plug (1) is read.
func (a *answers) usesRound(i int) bool {
	by := a.word("setup.reach_by")
	return by == "pair" || by == [2]string{"ring", "plug"}[i]
}

func (a *answers) places(round string) int {
	n, _ := a.number("setup.reach_" + round + "_places")
	return int(n)
}

func aboveZero(_ *answers, _ string, g *Given) error {
	if g.toml[0] == '-' || g.toml == "0" {
		return unfit("", "%s, must be above 0", g.Typed)
	}
	return nil
}

func placesFit(_ *answers, _ string, g *Given) error {
	for n := fewestPlaces; n <= mostPlaces; n++ {
		if g.toml == fmt.Sprint(n) {
			return nil
		}
	}
	return unfit("", "%s, must be a whole number from %d to %d", g.Typed, fewestPlaces, mostPlaces)
}

func reachReading(a *answers, round string, n int) string {
	places, pair := a.places(round), a.word("setup.reach_by") == "pair"
	thing := "the spindle"
	if pair {
		thing = "the head or table"
	}
	of := fmt.Sprintf("reading %d of %d on the %s", n+1, places, round)
	way := a.way()
	if (round == "ring") != (a.touch() == indicator.Bore) {
		way = indicator.TipIn + indicator.TipOut - way
	}
	const rocked = "rock the spindle to the turning point, lock it, hand off, and read"
	switch {
	case n > 0:
		return fmt.Sprintf("%s: turn %s on by %s°, hand off, and read", of, thing, decimal(rounded(360/float64(places), 1)))
	case pair && round == "plug":
		return fmt.Sprintf("%s: the slide left alone, turn the spindle half round, the tip %v now, bring it onto the plug, %s", of, way, rocked)
	case pair:
		return fmt.Sprintf("%s: the tip turned %v, %s", of, way, rocked)
	}
	return of + ": bring the tip onto it at any place, hand off, and read"
}

var reachTaken = taking{make: foundReach, from: []string{"setup.reach_ring_1", "setup.reach_plug_1"}}

// foundReach is the reach by the readings, with the limit that stands for its doubt.
func foundReach(a *answers) (finding, error) {
	u := a.unit()
	f := finding{record: setup.Found{Key: setup.FoundReach, By: a.typed("setup.reach_by")}}
	m, err := a.measuredReach(&f.record)
	var place *indicator.PlaceError
	if errors.As(err, &place) {
		return f, errors.New(place.In(u))
	}
	if err != nil {
		return f, err
	}
	const step = 4 // places
	v := rounded(u.From(m.V), step)
	f.record.Value = u.MM(v)
	f.also = []written{{"setup.reach", decimal(v), "found here: " + f.record.By}}
	f.says = fmt.Sprintf("reach %s", decimal(v))
	if limit := m.Limit(); !math.IsNaN(limit) {
		p := math.Pow10(step)
		up := math.Ceil(u.From(limit)*p-1e-6) / p
		f.record.Limit = u.MM(up)
		f.also = append(f.also, written{"setup.reach_error", decimal(up), "found here"})
		f.says += " ±" + decimal(up)
	}
	f.says += " " + u.String()
	if f.record.Limit == 0 {
		f.says += ", its doubt not known: there are too few readings for that, and no repeatability is stated"
	}
	return f, nil
}

// measuredReach works the reach out, and puts down what was read.
func (a *answers) measuredReach(into *setup.Found) (indicator.Measure, error) {
	d := a.dial()
	if a.word("setup.reach_by") != "pair" {
		round := indicator.RoundFor(a.touch(), a.way())
		r := a.round(round.String(), into)
		s := indicator.Spin{Dial: d, Touch: a.touch(), Way: a.way(), Round: round, Radius: r.Radius, RadiusLimit: r.RadiusLimit,
			TipDiameter: a.tip()}
		m, _, err := s.Reach(evenly(len(r.Readings)), r.Readings)
		return m, err
	}
	var zero [2]indicator.Measure
	for i, touch := range [2]indicator.Touch{indicator.Bore, indicator.Boss} {
		name := [2]string{"ring", "plug"}[i]
		r := a.round(name, into)
		f, err := indicator.Fit(d, indicator.Setup{Touch: touch, ReferenceRadius: r.Radius, ReferenceLimit: r.RadiusLimit,
			TipDiameter: a.tip()}, evenly(len(r.Readings)), r.Readings)
		if err != nil {
			return indicator.Measure{}, err
		}
		zero[i] = f.Zero(name)
	}
	reach, swing := indicator.PairReach(zero[0], zero[1])
	if !(swing.V > 0) {
		return reach, &indicator.PlaceError{What: "swing radius", V: swing.V}
	}
	// The ring saw the tip with the side that it touches a bore with, the plug with the side for a boss: on a boss the reach is the plug's.
	if a.touch() == indicator.Boss {
		reach = reach.Times(-1)
	}
	if indicator.WayOf(reach.V) != a.way() {
		return reach, fmt.Errorf("the tip comes out turned %v, and %v was answered; check the radii and the signs", indicator.WayOf(reach.V),
			a.way())
	}
	return reach, nil
}

// tip is the diameter of the tip's ball, millimetres.
func (a *answers) tip() float64 {
	v, _ := a.number("setup.tip_diameter")
	return a.unit().MM(v)
}

// round is a ring or a plug with what was read on it, which is put down.
func (a *answers) round(name string, into *setup.Found) setup.FoundRound {
	u, key := a.unit(), "setup.reach_"+name
	v, _ := a.number(key)
	e, _ := a.number(key + "_error")
	r := setup.FoundRound{Of: name, Radius: u.MM(v), RadiusLimit: u.MM(e)}
	for n := range a.places(name) {
		m, ok := a.number(fmt.Sprintf("%s_%d", key, n+1))
		if !ok {
			break
		}
		r.Readings = append(r.Readings, u.MM(m))
	}
	into.Rounds = append(into.Rounds, r)
	return r
}

// evenly are so many bearings round a circle; from where on is all the same.
func evenly(n int) (out []geom.Bearing) {
	for i := range n {
		out = append(out, geom.FromDegrees(360*float64(i)/float64(n)))
	}
	return out
}
