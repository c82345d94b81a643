package job

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// machineForm is what is asked of a machine.
var machineForm = form{
	name: "machine",
	head: "# A machine, as it was answered; what is learnt of it is kept elsewhere.",
	rows: func(a *answers) (out []placed) {
		for i := range machineAsks {
			out = append(out, placed{&machineAsks[i], ""})
		}
		slides := strings.Fields(a.typed(slidesKey))
		for _, s := range slides {
			out = append(out, a.slideRows(s)...)
		}
		for _, r := range rings {
			if r.of(slides) {
				for i := range ringAsks {
					out = append(out, placed{&ringAsks[i], r.table})
				}
				for i := range r.more {
					out = append(out, placed{&r.more[i], r.table})
				}
			}
		}
		return append(out, cableAsks...)
	},
	read: func(_ *answers, text []byte) error {
		_, err := ParseMachine("", text)
		return err
	},
}

// nameKey is the machine's name.
const nameKey = "name"

// slidesKey is no file's: which slides there are decides what is asked of them.
const slidesKey = "slides"

func quote(s string) string { return strconv.Quote(s) }

var machineAsks = []asks{
	{key: nameKey, kind: label{}, text: says("what the machine is called, to choose it by"), check: nameFits, def: freeName,
		help: "Letters, digits, spaces, - and _. The machine is kept, and offered, by that name."},
	{key: "unit", kind: words("mm", "in"), text: says("in which unit its figures are"),
		def:  func(a *answers, _ string) string { return a.Unit.String() },
		help: "The unit of its collars and of all that is answered here. A job names its own."},
	{key: slidesKey, kind: slideNamesKind{}, text: says("which slides it has"), def: says(slideSets[0].words), help: slidesHelp},
}

const slidesHelp = `offset is the slide that sets the swing radius: on the head, or the machine's own with a rotary table.
x and y carry the spindle over the work, to the right and away from you; table_x and table_y are the cross slides on
top of a rotary table. With a table and no slides on it the work is tapped into place, and offset alone is enough.

         y  ^                 .---- head axis
            |              ( + )======[o]  cutter, on its slide
            +---> x           seen from above`

// slideNamesKind is a list of slides.
type slideNamesKind struct{}

// slideSets are the slides that a set-up winds, with their names in a file, which are taken too.
var slideSets = []choice{{words: "offset, X and Y", toml: "offset x y"},
	{words: "offset, and a rotary table's X and Y", toml: "offset table_x table_y"}, {words: "X and Y", toml: "x y"},
	{words: "offset alone", toml: "offset"}}

func (slideNamesKind) describe(_ *answers, q *Question) {
	for _, s := range slideSets {
		q.Choices = append(q.Choices, s.words)
	}
	q.Closed = true
}

func (slideNamesKind) read(_ *answers, q *Question, text string) (meant, error) {
	if one, ok := choose(slideSets, text); ok {
		text = one.toml
	}
	var all []string
	for _, s := range slidesOf(text) {
		switch {
		case !slices.Contains(slideNames, s):
			return meant{}, unfit("", "unknown slide %q, need some of %s, like %s", s, strings.Join(slideNames, ", "), slideSets[0].toml)
		case slices.Contains(all, s):
			return meant{}, unfit("", "%s is named twice, need each slide once", s)
		}
		all = append(all, s)
	}
	if len(all) == 0 {
		return meant{}, unfit("", "%q names no slide, need some of %s, like %s", text, strings.Join(slideNames, ", "), slideSets[0].toml)
	}
	for _, pair := range [][2]string{{"x", "y"}, {"table_x", "table_y"}} {
		if slices.Contains(all, pair[0]) != slices.Contains(all, pair[1]) {
			return meant{}, unfit("", "%q, need %s and %s together: a centre is brought in by both", text, pair[0], pair[1])
		}
	}
	return meant{said: strings.Join(all, " ")}, nil
}

// slidesOf are the names in an answer.
func slidesOf(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || r == ',' })
}

// mostName is how long a machine's name may be: a file's name has to hold it.
const mostName = 60

// nameFits refuses a name that is no good as a file's, or that is taken.
func nameFits(a *answers, _ string, g *Given) error { return NameFits(g.Typed, a.Taken) }

// freeName is one that no machine has yet.
func freeName(a *answers, _ string) string {
	for n := 1; ; n++ {
		name := "mill"
		if n > 1 {
			name += " " + strconv.Itoa(n)
		}
		if NameFits(name, a.Taken) == nil {
			return name
		}
	}
}

// NameFits reports what is wrong with a machine's name: it is a file's too, and those that are taken are others'. A file system
// may not tell small letters from large ones.
func NameFits(name string, taken []string) error {
	const advice = "like bench mill or mill-2"
	plain := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune(" -_", r) }
	switch {
	case name == "" || strings.TrimSpace(name) != name || strings.ContainsFunc(name, func(r rune) bool { return !plain(r) }):
		return unfit(advice, "%q, need letters, digits, spaces, - and _", name)
	case name[0] == '-':
		return unfit(advice, "%q, need a letter, a digit or _ first: a word that begins with - is taken for a flag", name)
	case isDevice(name):
		return unfit(advice, "%q, need another: it is a device on some systems, where no file can have its name", name)
	case len(name) > mostName:
		return unfit(advice, "a name of %d bytes, need at most %d", len(name), mostName)
	case slices.ContainsFunc(taken, func(t string) bool { return strings.EqualFold(t, name) }):
		return unfit("choose another; trammel machine lists those that are there", "%q is there already, need a name of its own", name)
	}
	return nil
}

// isDevice reports whether a name is one that Windows keeps for a device, whatever stands behind a point ("Naming Files, Paths, and
// Namespaces" of its documentation).
func isDevice(name string) bool {
	name = strings.ToLower(name)
	if port, ok := strings.CutPrefix(name, "com"); ok || strings.HasPrefix(name, "lpt") {
		if !ok {
			port = name[len("lpt"):]
		}
		return len(port) == 1 && port >= "0" && port <= "9"
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul"}, name)
}

// collar is a handwheel's ring: travel of one turn, and marks.
type collar struct{ travel, divisions float64 }

// collars are those commonly found, the likeliest first (common practice, no source).
var collars = [...][]collar{
	geom.Millimetre: {{2, 100}, {2.5, 50}, {4, 200}, {5, 100}, {6, 120}, {1.5, 75}, {1, 50}},
	geom.Inch:       {{0.1, 100}, {0.125, 125}, {0.2, 200}, {0.25, 250}, {0.05, 50}},
}

// Of a backlash that nobody knows this is taken: on the large side, for too little of it would be left open by every wind, and
// too much costs a turn of the hand (common practice, no source). Millimetres.
const guessedBacklash = 0.3

var slideAsks = []asks{
	{key: "travel_per_turn", text: about("how far one turn of the handwheel moves the %s slide"),
		kind: number{unit: inUnit, common: func(a *answers) (out []string) {
			for _, c := range collars[a.unit()] {
				out = append(out, decimal(c.travel))
			}
			return out
		}},
		def: func(a *answers, in string) string {
			return a.foundOr(in+".travel_per_turn", a.before(in, "travel_per_turn", decimal(collars[a.unit()][0].travel)))
		},
		finds: true, help: collarHelp},
	{key: "divisions", kind: number{unit: inNothing, common: usualMarks},
		text: about("how many marks the collar of the %s slide has, all the way round"),
		def:  commonDivisions, help: collarHelp},
	{key: "clockwise", kind: choices(sensesOf), text: turnText, finds: true,
		def: foundSense,
		help: `Do it, and look: the sense cannot be seen from the figures, and a wrong one sends every wind the wrong way.
What counts is how the cutter stands to the work afterwards: a table that goes left carries the cutter to the right.

              _____
             /  |  \      turn it as a clock's hand goes,
            |   o   |     facing the handle
             \_____/`},
	{key: "take_up", kind: choices(lastMovements), def: says("clockwise"),
		text: about("which way your last movement at the %s slide always goes, facing the handle"),
		help: "A screw has backlash: only what was wound last in one way stands where the collar says. Whoever always comes\n" +
			"up from the same side never sees it. Clockwise, facing the handle, is what most hands do."},
	{key: "backlash", kind: number{unit: inUnit}, optional: always, text: backlashText, finds: true,
		def:   func(a *answers, in string) string { return a.foundOr(in+".backlash", "") },
		guess: func(a *answers, _ string) string { return a.length(guessedBacklash) },
		help: "How far the handwheel turns, as travel, before the slide follows when the way is changed. Where you don't know, a\n" +
			"guess on the large side will do: it only makes the winds back off farther."},
	{key: "backlash_error", kind: number{unit: inUnit}, optional: always, when: asFound,
		def:  func(a *answers, in string) string { return a.foundOr(in+".backlash_error", "") },
		text: about("how right the backlash of the %s slide is, plus or minus, as the needle showed it"),
		help: "With it the program knows how far to believe the figure; without it, it takes half of it as its doubt."},
	{key: "readout", kind: yesNo, def: says("false"), text: about("whether a digital readout watches the %s slide"),
		help: "With a readout, winds also say the coordinate to stop at."},
	{key: "readout_step", kind: number{unit: inUnit}, when: func(a *answers, in string) bool { return a.word(in+".readout") == "true" },
		def:  func(a *answers, _ string) string { return a.length(usualReadout) },
		text: about("what the readout of the %s slide counts in"), help: "The step of its last figure."},
	{key: "lock", kind: yesNo, def: says("false"), text: about("whether the %s slide is clamped once it stands"),
		help: "A clamp moves what it clamps: where it is used, the reading after it is what counts."},
	{key: "travel", kind: span{}, optional: always,
		text: about("where the travel of the %s slide ends by its own scale, lower end and upper end"),
		help: "Two numbers, the lower first, like 0 60. With them a plan says what is beyond the travel."},
}

const collarHelp = `Many collars say what one mark is worth: the marks all the way round times that is one turn.

          ___________
         |  |  |  |  |   marks, all the way round: divisions
         |_10_|_20_|_|   one mark: travel per turn / divisions`

// about is a text about a slide, or a ring, in its words.
func about(format string) func(*answers, string) string {
	return func(_ *answers, in string) string {
		name := strings.TrimPrefix(in, "slide.")
		if len(name) == 1 {
			name = strings.ToUpper(name)
		}
		return strings.ReplaceAll(format, "%s", name)
	}
}

func backlashText(a *answers, in string) string {
	return about("how much backlash the %s slide has")(a, in) + "; where that is unknown, " + a.length(guessedBacklash) + " " +
		a.unit().String() + " is taken, a guess on the large side"
}

// before is what was last answered to the same question of another slide, or else what is said.
func (a *answers) before(in, key, or string) string {
	for i := len(a.all) - 1; i >= 0; i-- {
		if k := a.all[i].Key; strings.HasPrefix(k, "slide.") && strings.HasSuffix(k, "."+key) && !strings.HasPrefix(k, in+".") {
			return a.all[i].toml
		}
	}
	return or
}

// usualMarks are the marks of the collars commonly found.
func usualMarks(a *answers) (out []string) {
	for _, c := range collars[a.unit()] {
		if d := decimal(c.divisions); !slices.Contains(out, d) {
			out = append(out, d)
		}
	}
	return out
}

// commonDivisions are the marks of the common collar with the travel that was answered; empty for none.
func commonDivisions(a *answers, in string) string {
	travel, _ := a.number(in + ".travel_per_turn")
	for i := len(a.all) - 1; i >= 0; i-- { // another slide's with the same screw
		other, ok := strings.CutSuffix(a.all[i].Key, ".divisions")
		if t, known := a.number(other + ".travel_per_turn"); ok && known && t == travel {
			return a.all[i].toml
		}
	}
	for _, c := range collars[a.unit()] {
		if c.travel == travel {
			return decimal(c.divisions)
		}
	}
	return ""
}

// sense is how the eye tells what a turn clockwise, facing the handle, does, by the name of the slide.
type sense struct{ slide, asks, goes, grows, shrinks string }

var senses = []sense{
	{"x", "does the cutter go right or left over the work?", "the cutter goes", "right", "left"},
	{"y", "does the cutter go away from you or towards you over the work?", "the cutter goes", "away", "towards"},
	{"table_x", "the table at its zero: does the work go right or left on the table?", "the work goes", "right", "left"},
	{"table_y", "the table at its zero: does the work go away from you or towards you on the table?", "the work goes", "away", "towards"},
	{"offset", "does the cutter go away from the axis or towards it?", "the cutter goes", "away", "towards"},
}

func senseOf(in string) sense {
	i := slices.IndexFunc(senses, func(s sense) bool { return "slide."+s.slide == in })
	return senses[i]
}

// TurnWords say what a turn does to a slide as the eye sees it: the cutter goes right.
func TurnWords(name string, w slide.Way) string {
	s := senseOf("slide." + name)
	if w == slide.Decrease {
		return s.goes + " " + s.shrinks
	}
	return s.goes + " " + s.grows
}

func turnText(a *answers, in string) string {
	if a.of(useKey(in)) != nil { // the tip may touch still
		return about("%s slide, the tip taken clear of the work, one turn clockwise, facing the handle: ")(a, in) + senseOf(in).asks
	}
	return about("%s slide, one turn clockwise, facing the handle: ")(a, in) + senseOf(in).asks
}

// sensesOf are the two things a clockwise turn may do to a slide; the file's own words are taken too.
func sensesOf(_ *answers, key string) []choice {
	s := senseOf(tableOf(key))
	return []choice{{words: s.grows, toml: `"increase"`, or: "increase"}, {words: s.shrinks, toml: `"decrease"`, or: "decrease"}}
}

// lastMovements are the two ways of the hand, with what they do to the slide.
func lastMovements(a *answers, key string) []choice {
	with, against := "increase", "decrease"
	if a.word(tableOf(key)+".clockwise") == "decrease" {
		with, against = against, with
	}
	return []choice{{words: "clockwise", toml: quote(with), or: with}, {words: "anticlockwise", toml: quote(against), or: against}}
}

// rings are those that show an angle, and with which slides they are asked about.
var rings = []struct {
	table string
	of    func(slides []string) bool
	more  []asks // asked behind the ring
}{
	{"head", func(s []string) bool { return slices.Contains(s, "offset") && slices.Contains(s, "x") }, nil},
	{"table", func(s []string) bool {
		return slices.Contains(s, "offset") && (len(s) == 1 || slices.Contains(s, "table_x"))
	}, handwheelAsks},
}

var ringAsks = []asks{
	{key: "zero", kind: number{unit: inDegrees}, def: says("0"), text: ringZero,
		help: `Bearings run anticlockwise from X to the right, seen from above.

             90
              |
       180 ---+--- 0  X, to the right
              |
             270`},
	{key: "sense", def: says("grow"),
		kind: among(choice{words: "grow", toml: `"anticlockwise"`, or: "anticlockwise"},
			choice{words: "fall", toml: `"clockwise"`, or: "clockwise"}),
		text: about("turn the %s a little anticlockwise, seen from above: do the figures at its ring's mark grow, or fall"),
		help: "A ring whose figures fall as it turns anticlockwise grows clockwise."},
	{key: "graduation", kind: number{unit: inDegrees}, optional: always, text: about("what one mark of the %s's ring is worth"),
		help: "With it, what is told by the ring is told as finely as the ring shows."},
}

func ringZero(a *answers, in string) string {
	if in == "table" {
		return "how far the table stands turned anticlockwise, seen from above, where its ring shows 0"
	}
	return about("at which bearing the %s's ring shows 0, anticlockwise from X seen from above")(a, in)
}
