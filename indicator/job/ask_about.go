package job

import (
	"math"
	"strings"

	"example.org/trammel/geom"
)

// hereKey and clockedKey are no file's: whether there is anything to sweep about an arc's own centre decides what is asked of it, and
// over what length an edge was clocked how right the angle is.
const (
	hereKey    = "swept_here"
	clockedKey = "clocked_over"
)

// clockedWithin is how far an edge that was clocked may lie beside where the needle stands still, millimetres (common practice, no
// source).
const clockedWithin = 0.01

// elsewhere says that an arc has nothing to sweep about its own centre, and that slides go there from what is swept.
func elsewhere(a *answers, _ string) bool { return a.typed(hereKey) == "false" }

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
		kind: among(choice{words: "true", or: "yes"}, choice{words: "false", or: "no"}),
		def: func(a *answers, _ string) string {
			if a.lately("setup.reference_at") != "" {
				return "false"
			}
			return "true"
		},
		text: says("is there anything round about the arc's own centre to sweep: a hole, a ring, a boss, a pin"),
		help: `If not, a bore that stands elsewhere is swept, the drawing's angle is found by clocking an edge, and the slides go on from
the bore's centre to the arc's by their readouts or collars.`},
}

var aboutAsks = []asks{
	{key: "reference_at", ofArc: true, with: hereKey, kind: spot{}, when: elsewhere,
		text: says("where on the drawing the centre of what is swept instead stands, x and y like 12.5 -40"),
		help: `The nearer to the arc, the less the angle matters. Make sure that it is the one that will be swept:
distances go from its centre to the arc's.`},
	{key: "angle", ofArc: true, with: hereKey, kind: number{unit: inDegrees}, when: elsewhere, def: says("0"),
		text: func(a *answers, in string) string {
			slide := "x"
			if onTable(a, in) {
				slide = "table_x"
			}
			return "how far the drawing's X is turned from the way of the " + slide + " slide, anticlockwise seen from above"
		},
		help: `   ______________ an edge along the drawing's X      Wind that slide with the indicator against the edge. What the
  |  <- indicator ->                                 needle changes over the way is the angle's tangent: 0.1 over
                                                     100 is 0.057 degrees. Where it stands still the angle is 0.`},
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

func (spot) describe(a *answers, q *Question) { q.Unit = inUnit(a) }

func (spot) read(_ *answers, q *Question, text string) (meant, error) {
	fields := strings.Fields(strings.NewReplacer("[", " ", "]", " ", ", ", " ", ";", " ").Replace(text))
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
