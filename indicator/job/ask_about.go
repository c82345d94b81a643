package job

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// These keys are no file's: whether there is anything to sweep about an arc's own centre decides what is asked of it, a circle that is
// drawn is where its centre is, the way that an angle makes shows whether it is the right one, and over what length an edge was
// clocked how right it is.
const (
	hereKey    = "swept_here"
	circleKey  = "swept_circle"
	wayKey     = "way_right"
	clockedKey = "clocked_over"
)

const yes, no = "yes", "no"

// elsewherePlace is the answer of whoever sweeps what is not drawn as a circle, or not offered.
const elsewherePlace = "another place"

// clockedWithin is how far an edge that was clocked may lie beside where the needle stands still, millimetres (common practice, no
// source).
const clockedWithin = 0.01

// elsewhere says that an arc has nothing to sweep about its own centre, and that slides go there from what is swept.
func elsewhere(a *answers, _ string) bool { return a.typed(hereKey) == no }

// mayGo says that slides could carry the axis to an arc about whose centre nothing round is drawn, and that nothing states where
// from.
func mayGo(a *answers, in string) bool {
	if a.Arc == nil || !a.Arc.Lone || a.stated("setup.reference_at") != nil {
		return false
	}
	onSlides := !onTable(a, in) || a.Machine == nil || a.has("table_x") && a.has("table_y")
	return swept(a, in) && onSlides && a.word("target.set_off_by") == ""
}

var hereAsks = []asks{
	{key: hereKey, ofArc: true, with: "setup.reference_radius", when: mayGo,
		kind: among(choice{words: yes, or: "true"}, choice{words: no, or: "false"}),
		def: func(a *answers, _ string) string {
			if a.lately("setup.reference_at") != "" {
				return no
			}
			return ""
		},
		text: says("nothing round is drawn about the arc's own centre: is there all the same anything there to sweep, a hole, a ring, " +
			"a boss, a pin"),
		help: `If not, a bore that stands elsewhere is swept, the drawing's angle is found by clocking an edge, and the slides go on from
the bore's centre to the arc's by their readouts or collars.`},
	{key: circleKey, ofArc: true, with: hereKey, kind: amongCircles{}, def: circleBefore,
		when: func(a *answers, in string) bool { return elsewhere(a, in) && len(offered(a)) > 0 },
		text: says("which circle of the drawing is swept instead, the nearest first"),
		help: `The nearer to the arc, the less the angle matters. Make sure that it is the one that will be swept:
distances go from its centre to the arc's.`},
}

// mostCircles are offered: as many as a page and a keypad have room for.
const mostCircles = 8

// offered are the circles that may be swept instead.
func offered(a *answers) []Circle {
	if a.Arc == nil {
		return nil
	}
	return a.Arc.Circles[:min(len(a.Arc.Circles), mostCircles)]
}

// placed is the circle's centre as it is typed.
func (c Circle) placed(a *answers) string {
	at := func(mm float64) string { return decimal(math.Round(a.unit().From(mm)*1e6)/1e6 + 0) } // of which -0 becomes 0
	return at(c.Centre.X) + " " + at(c.Centre.Y)
}

// words tell it.
func (c Circle) words(a *answers) string {
	d := decimal(math.Round(a.unit().From(2*c.Radius)*1e4) / 1e4)
	return fmt.Sprintf("arc %d, diameter %s %v, at %s", c.N, d, a.unit(), strings.Replace(c.placed(a), " ", ", ", 1))
}

// amongCircles is which of them is swept instead, or that none of them is.
type amongCircles struct{}

func (amongCircles) describe(a *answers, q *Question) {
	q.Closed = true
	for _, c := range offered(a) {
		q.Choices = append(q.Choices, c.words(a))
	}
	q.Choices = append(q.Choices, elsewherePlace)
}

func (amongCircles) read(a *answers, q *Question, text string) (meant, error) {
	var all []choice
	for _, c := range offered(a) {
		at := "[" + strings.Replace(c.placed(a), " ", ", ", 1) + "]"
		all = append(all, choice{words: c.words(a), toml: at, note: fmt.Sprintf("the centre of arc %d of the drawing", c.N)})
	}
	one, ok := choose(append(all, choice{words: elsewherePlace}), text)
	switch {
	case !ok:
		return meant{}, unfit("", "%q, need %s", text, how(q))
	case one.toml == "":
		return meant{said: one.words}, nil
	}
	return meant{said: one.words, found: &found{also: []written{{"setup.reference_at", one.toml, one.note}}}}, nil
}

// circleBefore is the circle that was swept for the arc before, and that another place was.
func circleBefore(a *answers, _ string) string {
	was := spot{}.spelt(a, a.lately("setup.reference_at"))
	if was == "" {
		return ""
	}
	for _, c := range offered(a) {
		if c.placed(a) == was {
			return c.words(a)
		}
	}
	return elsewherePlace
}

var aboutAsks = []asks{
	{key: "reference_at", ofArc: true, with: hereKey, kind: spot{},
		when: func(a *answers, in string) bool {
			return elsewhere(a, in) && (len(offered(a)) == 0 || a.typed(circleKey) == elsewherePlace)
		},
		text: says("where on the drawing the centre of what is swept instead stands, x and y like 12.5 -40, or 12.5+-40"),
		help: `The nearer to the arc, the less the angle matters. Make sure that it is the one that will be swept:
distances go from its centre to the arc's.`},
	{key: "angle", ofArc: true, with: hereKey, kind: number{unit: inDegrees}, when: elsewhere,
		text: func(a *answers, in string) string {
			slide := "x"
			if onTable(a, in) {
				slide = "table_x"
			}
			return "how far the drawing's X is turned from the way of the " + slide + " slide, anticlockwise seen from above: " +
				"clocked along an edge"
		},
		help: `     <- indicator ->
   ______________  an edge along the drawing's X, its Y side
  |
Wind that slide with the indicator against the edge, so that the tip comes along it towards the drawing's plus X. On the
edge's plus Y side a tip that is pressed farther in says plus, on its other side minus. What the needle changes over the
way is the angle's tangent: 0.1 over 100 is 0.057 degrees. Where it stands still the angle is 0. Of work that lies a
quarter turn round an edge along the drawing's Y is clocked, and 90 or -90 added.`},
	{key: "angle_error", ofArc: true, with: hereKey, kind: number{unit: inDegrees}, when: elsewhere, optional: always, def: clockedAngle,
		text: says("how far that angle may be off, plus or minus"),
		help: "An edge clocked within 0.01 mm over 100 mm leaves 0.006 degrees; over a way of 50 that is 0.005 mm at the arc."},
	{key: "slide_error_per_100", ofArc: true, with: hereKey, kind: number{unit: inNothing}, when: elsewhere, optional: always,
		text: says("what the slides' readouts, or screws, are out over 100 of their way, plus or minus (0.01 for 0.01 over 100)"),
		help: "Try them over a known length. Of a screw of which nobody says it, 0.3 % of the way is taken."},
	{key: "square_per_100", ofArc: true, with: hereKey, kind: number{unit: inNothing}, when: elsewhere, optional: always,
		text: says("what the two slides are out of square to each other over 100, plus or minus"),
		help: "Try them with a square. Where nobody says it they are taken as square, and the verdict says so."},
}

// plainAngle is as far as a drawing lies turned without being asked once more, degrees: work is laid along a slide as a rule.
const plainAngle = 5

// wayAsks show what comes of the angle before it is taken: a sign or a quarter turn that is wrong is seen by where the slides go.
var wayAsks = []asks{
	{key: wayKey, ofArc: true, with: hereKey, when: elsewhere, kind: rightWay{}, text: wayText,
		def: func(a *answers, _ string) string {
			if deg, ok := a.number("setup.angle"); !ok || math.Abs(deg) > plainAngle {
				return ""
			}
			return yes
		},
		help: `The slides go that way from the centre of what is swept. Compare it with the work as it lies; no asks for the
angle again, and back from there for the place.`},
}

// wayText is the way that comes of what is answered.
func wayText(a *answers, _ string) string {
	at := setup.Job{About: &setup.About{Centre: a.Arc.Centre}}
	_ = at.Setup.Kind.UnmarshalText([]byte(a.word("setup.kind"))) // else it is carried, and the file's parser says so
	var place [2]float64
	for i, word := range strings.Split(strings.Trim(a.word("setup.reference_at"), "[]"), ", ") {
		place[i%2], _ = strconv.ParseFloat(word, 64) // it is as we have written it
	}
	deg, _ := a.number("setup.angle")
	at.About.Reference = geom.Point{X: a.unit().MM(place[0]), Y: a.unit().MM(place[1])}
	at.About.Angle = geom.FromDegrees(deg)
	m := a.Machine
	if m == nil {
		m = &setup.Machine{}
	}
	c, ok := setup.CourseOf(&at, m)
	if !ok {
		return "what is swept then stands about the arc's own centre, and no slide goes anywhere: is that so"
	}
	show := func(i int) string {
		return SlideWords(c.Names[i]) + " " + geom.FormatSigned(a.unit().From(c.Travel[i]), geom.Places(0, a.unit()))
	}
	far := ""
	if math.Abs(deg) > plainAngle {
		far = "the drawing lies " + decimal(deg) + " degrees round, far from 0: "
	}
	return fmt.Sprintf("%sfrom what is swept to the arc's centre it is then %s, %s %v: is that so", far, show(0), show(1), a.unit())
}

// rightWay is whether the way that comes of an angle is the right one; else the angle is asked for again.
type rightWay struct{}

func (rightWay) describe(_ *answers, q *Question) { q.Choices, q.Closed = []string{yes, no}, true }

func (rightWay) read(_ *answers, q *Question, text string) (meant, error) {
	one, ok := choose([]choice{{words: yes}, {words: no}}, text)
	switch {
	case !ok:
		return meant{}, unfit("", "%q, need %s", text, how(q))
	case one.words == no:
		return meant{said: no, found: &found{again: "setup.angle"}}, nil
	}
	return meant{said: yes}, nil
}

var clockedAsks = []asks{
	{key: clockedKey, ofArc: true, with: hereKey, kind: unwritten{}, when: elsewhere, optional: always,
		text: says("over what length of an edge that angle was clocked"),
		help: "It is taken that the edge was followed within 0.01 mm at both ends; what that leaves of the angle is proposed next."},
}

// clockedAngle is the angle that is left open by an edge that was clocked, degrees, rounded up to two figures; empty where none was.
func clockedAngle(a *answers, _ string) string {
	over, err := geom.ParseNumber(a.typed(clockedKey))
	if err != nil || !(over > 0) {
		return ""
	}
	deg := geom.Bearing(math.Atan(clockedWithin / a.unit().MM(over))).Degrees()
	step := math.Pow10(int(math.Floor(math.Log10(deg))) - 1)
	return decimal(math.Round(math.Ceil(deg/step)*step*1e9) / 1e9)
}

// unwritten is a length that no file has.
type unwritten struct{}

func (unwritten) describe(a *answers, q *Question) { q.Unit, q.Numeral = inUnit(a), true }

func (unwritten) read(_ *answers, q *Question, text string) (meant, error) {
	v, err := figure(q, text)
	if err == nil && !(v > 0) {
		err = unfit(how(q), "%v, need a length above 0", v)
	}
	return meant{said: decimal(v)}, err
}

// spot is a place of the drawing, x first.
type spot struct{}

func (spot) describe(a *answers, q *Question) { q.Unit, q.Two = inUnit(a), true }

func (spot) read(_ *answers, q *Question, text string) (meant, error) {
	fields := strings.Fields(strings.NewReplacer("[", " ", "]", " ", ", ", " ", ";", " ").Replace(text))
	if i := strings.LastIndex(text, "+"); len(fields) == 1 && i > 0 { // a keypad has no space
		fields = []string{text[:i], text[i+1:]}
	}
	if len(fields) != 2 {
		return meant{}, unfit("like 12.5 -40", "%q, need two numbers, x first", text)
	}
	var at [2]string
	for i, field := range fields {
		v, err := figure(q, field)
		if err != nil {
			return meant{}, err
		}
		at[i] = decimal(v)
	}
	return meant{toml: "[" + at[0] + ", " + at[1] + "]"}, nil
}

// spelt is a place that a file has, as it is typed.
func (spot) spelt(_ *answers, toml string) string {
	return strings.Trim(strings.ReplaceAll(toml, ",", ""), "[]")
}
