package job

import (
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// jobForm is what is asked of a job: what is wanted, what it is read with, and what is touched; the reach last, so that one
// that would put the needle off the dial is refused where it is given.
var jobForm = form{
	name: "job",
	head: jobHead,
	rows: func(*answers) (out []placed) {
		for _, t := range jobAsks {
			for i := range t.rows {
				out = append(out, placed{&t.rows[i], t.table})
			}
		}
		return out
	},
	read: func(a *answers, text []byte) error {
		_, err := a.job(text)
		return err
	},
}

const jobHead = "# A job, as it was answered."

// jobAsks are the questions by their tables, in the order in which they are asked.
var jobAsks = []struct {
	table string
	rows  []asks
}{
	{"", []asks{{key: "unit", kind: words("mm", "in"), text: says("in which unit you read and type"),
		def:  func(a *answers, _ string) string { return a.Unit.String() },
		help: "The dial's unit. The machine's file names its own."}}},
	{"setup", setupAsks},
	{"", cutterAsks},
	{"target", targetAsks},
	{"cut", cutAsks},
	{"cut", depthAsks},
	{"sweep", sweepAsks},
	{"dial", dialAsks},
	{"dial", repeatAsks},
	{"", hereAsks},
	{"setup", aboutAsks[:2]},
	{"", wayAsks},
	{"", clockedAsks},
	{"setup", aboutAsks[2:]},
	{"setup", surfaceAsks},
	{"", handAsks},
	{"setup", touchAsks},
	{"setup", reachAsks},
	{"cut", trialAsks},
	{"", keepAsks},
}

// What is asked, by what was answered before.
func swept(a *answers, _ string) bool       { return a.word("setup.kind") != indicator.Points.String() }
func wantsRadius(a *answers, _ string) bool { return a.word("target.swing_radius") != "" }
func onTable(a *answers, _ string) bool     { return a.word("setup.kind") == indicator.Turned.String() }

// byReach says that the sweep shows the swing radius, which leans on the reach.
func byReach(a *answers, in string) bool {
	return wantsRadius(a, in) && a.word("target.set_off_by") == ""
}

// offSlide says that the swing radius can only be set by carrying the spindle off the axis: the machine has no offset slide.
func offSlide(a *answers, in string) bool {
	return wantsRadius(a, in) && a.word("setup.kind") == indicator.Carried.String() && a.Machine != nil && !a.has("offset")
}

func (a *answers) has(name string) bool {
	_, ok := a.Machine.Slide(name)
	return ok
}

var setupAsks = []asks{
	{key: "kind", kind: words("carried", "turned", "points"), def: commonKind, check: machineFits,
		text: says("how it is set: carried (the indicator rides round on the head, the work lies still), " +
			"turned (the indicator stands still, a rotary table turns the work), points (coordinates are read where a tip touches)"),
		help: `carried          turned             points
   .-->             __[i]  stands       x  x
  (  o  )[i]       (  o  )             x    x   read off
   '<--             turns               x  x    the readouts`},
}

// commonKind is the set-up that the machine's slides are for.
func commonKind(a *answers, _ string) string {
	switch {
	case a.Machine == nil || a.has("offset") && a.has("x"):
		return "carried"
	case a.has("offset"):
		return "turned"
	}
	return "points"
}

// machineFits refuses a set-up whose slides the machine does not have.
func machineFits(a *answers, _ string, g *Given) error {
	if a.Machine == nil {
		return nil
	}
	now := answers{Facts: a.Facts, all: append(a.all[:len(a.all):len(a.all)], *g)}
	var j setup.Job
	if j.Setup.Kind.UnmarshalText([]byte(now.word("setup.kind"))) != nil {
		return nil // the parser says so
	}
	if wantsRadius(&now, "") && !offSlide(&now, "") {
		j.Target.SwingRadius = 1
	}
	for _, missing := range all(Match(&j, a.Machine, "")) {
		return unfit("answer otherwise, or describe it in a machine of its own", "the machine %q has no %s, needed for this",
			a.Machine.Name, strings.Replace(missing.Key, ".", " ", 1))
	}
	return nil
}

var targetAsks = []asks{
	{key: "swing_radius", ofArc: true, kind: radius{}, optional: always, said: true, out: "centre only", when: swept,
		check: machineFits,
		text: says("the swing radius that is wanted, from the head's or table's axis to the cutter's (d 84 is taken as a diameter); " +
			Unknown + " brings in the centre only"),
		help: `The arc's radius and half the cutter where the metal is inside the arc (a rim, a boss), less half of it where the
metal is outside (a hollow, a corner).

      axis +------------------( )  cutter
           |<- swing radius ->|`},
	{key: "set_off_by", kind: words("x", "-x", "y", "-y"), def: says("x"), when: offSlide,
		text: says("which slide carries the spindle off the table's axis by that radius, and which way (- where its coordinate shrinks)"),
		help: "The spindle is first stood over the table's axis, which a sweep of the table's bore shows."},
	{key: "tolerance", kind: number{unit: inUnit}, when: wantsRadius, text: says("how far the swing radius may be off, plus or minus"),
		help: "As the drawing has it on the radius: of R 38 ±0.02 it is 0.02. Of a diameter it is half: of 76 ±0.04 it is 0.02."},
	{key: "centre_tolerance", kind: number{unit: inUnit}, text: says("how far the axis may stand off the centre"),
		def:  func(a *answers, _ string) string { return a.word("target.tolerance") },
		help: "The distance between the head's or table's axis and the middle of what is touched."},
}

// cutting says that the arc is cut with the cutter that was answered.
func cutting(a *answers, _ string) bool { return a.word("cut.cutter") != "" }

var cutAsks = []asks{
	{key: "cutter", ofArc: true, kind: number{unit: inUnit}, optional: always, when: wantsRadius, text: says("the cutter's diameter"),
		help: "With it the steps of the cut are told, to the checked arc. Without it the setting ends where it is accepted."},
	{key: "cutter_error", kind: limit{ways: ways(cutterKnown)}, optional: always, when: cutting,
		def: says(cutterKnown[1].words), text: says("how the cutter's diameter is known"), help: limitHelp},
	{key: "metal", ofArc: true, kind: words("inside", "outside"), when: cutting,
		text: says("on which side of the arc the metal is that stays"),
		help: "inside for a boss or a rim, outside for a hollow, a corner or a slot's outer wall."},
	{key: "stock", kind: number{unit: inUnit}, when: cutting, def: func(a *answers, _ string) string { return a.length(usualStock) },
		text: says("how much is left on for the last wind, after the arc has been measured"),
		help: "What is left on, is measured, and is taken off with one last wind. 0 cuts to size at once."},
}

// usualStock is left on before the last wind, millimetres (common practice, no source).
const usualStock = 0.3

var sweepAsks = []asks{
	{key: "stations", kind: number{unit: inNothing}, def: says("6"), text: says("at how many places round the circle is read"),
		help: "Five to eight, evenly spaced. Six show an oval, seven or eight three lobes too."},
}

// dialKind is an indicator as it is sold: what one mark is worth and what one turn of the needle is, in its unit.
type dialKind struct{ graduation, revolution float64 }

// dials are those commonly found, the likeliest first (common practice, no source).
var dials = [...][]dialKind{
	geom.Millimetre: {{0.01, 1}, {0.002, 0.2}, {0.001, 0.2}},
	geom.Inch:       {{0.0005, 0.03}, {0.001, 0.1}, {0.0001, 0.008}},
}

var dialAsks = []asks{
	{key: "graduation", kind: number{unit: inUnit, common: func(a *answers) (out []string) {
		if !swept(a, "") {
			return nil
		}
		for _, d := range dials[a.unit()] {
			out = append(out, decimal(d.graduation))
		}
		return out
	}}, text: graduationText,
		def: func(a *answers, in string) string {
			if !swept(a, in) {
				return a.length(usualReadout)
			}
			return decimal(dials[a.unit()][0].graduation)
		},
		help: "It stands on the dial's face. Of readouts it is the step of the last figure."},
	{key: "revolution", kind: number{unit: inUnit}, optional: always, when: swept, def: commonRevolution,
		text: says("what one turn of the dial's needle is"),
		help: "Marks all the way round times what one is worth. With it a reading that is a whole turn out is recognised."},
	{key: "range", kind: number{unit: inUnit}, when: swept,
		def:  func(a *answers, _ string) string { return a.word("dial.revolution") },
		text: says("how far the dial's tip goes in all, its zero in the middle"),
		help: "A reading beyond half of it either way is refused, and nothing is told that would drive the tip farther."},
	{key: "error", kind: number{unit: inUnit}, optional: always, when: swept,
		text: says("the dial's own error by its sheet, plus or minus"),
		help: "Where nobody states it the dial is taken as exact, and every verdict that leans on that says so."},
	pressedAsk,
	{key: "repeatability", kind: figureOr{number{unit: inUnit}}, optional: always, doubts: repeatsBadly,
		text: says("how well a reading repeats: how far readings of the same place lie from their mean, as a rule (standard deviation)"),
		help: "Where it is unknown, it is taken from the readings themselves; a sweep is then surer with more of them."},
}

// usualReadout is what a readout counts in, millimetres (common practice, no source).
const usualReadout = 0.005

func graduationText(a *answers, in string) string {
	if !swept(a, in) {
		return "what the readouts count in"
	}
	return "what one mark of the dial is worth"
}

// commonRevolution is that of the common dial with the graduation that was answered; empty for none.
func commonRevolution(a *answers, _ string) string {
	g, _ := a.number("dial.graduation")
	for _, d := range dials[a.unit()] {
		if d.graduation == g {
			return decimal(d.revolution)
		}
	}
	return ""
}

// surface is what the tip may run on, and how such a thing is usually known: by the number of its row in refKnown, -1 for none.
type surface struct {
	words, touch string
	usually      int
	atHand       string // which of those at hand it may be; empty for none
}

// A file has only two words, which stand first: a ring is a bore to the tip, and a plug, or a pin set in a drilled hole, a boss.
var surfaces = []surface{
	{"bore", "bore", -1, "ring"}, {"boss", "boss", -1, "plug"}, {"ring", "bore", 0, "ring"}, {"plug", "boss", 0, "plug"},
	{"pin", "boss", 1, ""},
}

// surfaceOf is the surface of a word; an empty one for no word of theirs.
func surfaceOf(words string) surface {
	if i := slices.IndexFunc(surfaces, func(s surface) bool { return s.words == words }); i >= 0 {
		return surfaces[i]
	}
	return surface{usually: -1}
}

func surfaceChoices(*answers, string) (out []choice) {
	for _, s := range surfaces {
		c := choice{words: s.words, toml: quote(s.touch)}
		if s.words != s.touch {
			c.note = s.words
		}
		out = append(out, c)
	}
	return out
}

// How right a figure is by how it is known, plus or minus, millimetres, of a diameter (common practice, no source).
var (
	refKnown = []known{{"setting ring or plug", 0.003}, {"dowel or micrometer", 0.01}, {"reamed", 0.02}, {"caliper", 0.04},
		{"drilled", 0.2}}
	cutterKnown = []known{{"measured", 0.01}, {"as marked", 0.03}}
)

// formKnown is how far a reference may be out of round by what it is, millimetres (common practice, no source).
var formKnown = []known{{"setting ring or plug", 0.001}, {"reamed or bored", 0.01}, {"turned in a three-jaw chuck", 0.02}, {"drilled", 0.1}}

// reachKnown is how right a reach is by how it is known, plus or minus, millimetres (common practice, no source).
var reachKnown = []known{{"found before and untouched", 0.01}, {"caliper", 0.05}, {"indicator re-seated", 0.05}, {"rule", 0.5}}

func ways(k []known) func(*answers) []known { return func(*answers) []known { return k } }

const limitHelp = `How it is known says how far it may be off; the figures behind the answers are common practice, no source, and are
written into the file's text, where each can be changed. A limit of your own is typed with its decimals. Nothing here
means exact: what nobody states is named in every verdict that leans on it.`

var surfaceAsks = []asks{
	{key: "touch", ofArc: true, kind: choices(surfaceChoices), def: lastSurface, lasts: never,
		text: says("what the tip touches: a bore or ring from inside, a boss, plug or pin (or button) set in a hole from outside"),
		help: `bore, ring        boss, plug, pin
   ______             ____
  /     [|          [|    \
 |   +   |           |  +  |
  \______/            \____/`},
}

var touchAsks = []asks{
	{key: "reference_radius", ofArc: true, kind: reference{}, text: radiusText, check: noDiameter,
		optional: func(a *answers, in string) bool { return !wantsRadius(a, in) }, def: bestAtHand, lasts: noneBetter, hand: atHand,
		help: "Its radius; d before a figure says that it is the diameter: d 60 is a radius of 30."},
	{key: "reference_radius_error", ofArc: true, with: "setup.reference_radius", lasts: sameReference,
		kind: limit{ways: ways(refKnown), half: true}, optional: always, def: usuallyKnown,
		when: func(a *answers, _ string) bool { return a.word("setup.reference_radius") != "" },
		text: knownText, help: limitHelp},
	{key: "reference_form_error", ofArc: true, with: "setup.reference_radius", lasts: sameReference, when: swept,
		kind: limit{ways: ways(formKnown), lead: "How high its lobes then are at most"}, optional: always, def: says(dontKnow),
		text: func(a *answers, _ string) string {
			return "what is known of how round the " + a.typed("setup.touch") + " is"
		},
		help: "How far it may be out of round: the height of its lobes. An oval, or three lobes from a chuck, can pass for a centre\n" +
			"error.\n" +
			limitHelp},
	{key: "tip_diameter", kind: number{unit: inUnit}, def: says("0"), check: ballFits,
		text: says("the diameter of the tip's ball"),
		help: "It matters on small things only: a pin of 1 touched by a ball of 2. 0 leaves it out of account."},
	{key: "indicator_bearing", kind: number{unit: inDegrees}, when: onTable, def: says("0"),
		text: says("at which bearing the indicator stands, anticlockwise from X seen from above"),
		help: "0 is on the right, 90 away from you."},
	{key: "reach", ofArc: true, with: "setup.reference_radius", kind: figureOr{number{unit: inUnit}}, optional: mayTry, said: true,
		out:  "by a trial cut",
		when: byReach, zeroAt: zeroReach, lasts: reachServes, hand: atHand, text: reachText,
		help: `     tip turned in: -                tip turned out: +
  axis +------<|--( )              axis +------( )--|>
                 spindle                     spindle
It can be found here: the spindle is spun with the tip against a ring or a plug.`},
}

// ballFits refuses a ball that the bore does not take: the file's parser says so only once nothing else is missing.
func ballFits(a *answers, in string, g *Given) error {
	rho, known := a.number(in + ".reference_radius")
	ball, err := geom.ParseNumber(g.toml)
	if known && err == nil && a.word(in+".touch") == indicator.Bore.String() && ball >= 2*rho {
		return unfit("measure the ball; or go back to the radius", "%s %v, and a bore of radius %s %v is touched: need less than %s %v",
			decimal(ball), a.unit(), decimal(rho), a.unit(), decimal(2*rho), a.unit())
	}
	return nil
}

// usuallyKnown is how such a surface is usually known.
func usuallyKnown(a *answers, _ string) string {
	if s := surfaceOf(a.typed("setup.touch")); s.usually >= 0 {
		return refKnown[s.usually].words
	}
	return dontKnow
}

func radiusText(a *answers, _ string) string {
	return "the radius of the " + a.typed("setup.touch") + "; a diameter is taken with d before it, like d 60"
}

// knownText shows the radius with its diameter, so that one typed for the other is seen.
func knownText(a *answers, _ string) string {
	r, _ := a.number("setup.reference_radius")
	return "how the diameter of the " + a.typed("setup.touch") + " is known: radius " + decimal(r) + " (diameter " + decimal(2*r) + ") " +
		a.unit().String()
}

// zeroReach is the reach with which the dial reads zero at the target.
func zeroReach(a *answers, _ string) (float64, bool) {
	rho, ok := a.number("setup.reference_radius")
	swing, wanted := a.number("target.swing_radius")
	return rho - swing, ok && wanted
}
