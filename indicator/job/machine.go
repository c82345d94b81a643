package job

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// slideNames are the slides a machine file may describe, in the order they are wound.
var slideNames = []string{"x", "y", "table_x", "table_y", "offset"}

type rawRing struct {
	Lock       bool     `toml:"lock"`
	Zero       *float64 `toml:"zero"`
	Sense      *string  `toml:"sense"`
	Graduation *float64 `toml:"graduation"`
	Vernier    *float64 `toml:"vernier"`
}

type rawTable struct {
	rawRing
	Handwheel *float64 `toml:"handwheel"`
	Clockwise *string  `toml:"handwheel_clockwise"`
	Divisions *float64 `toml:"handwheel_divisions"`
	WormPlay  *float64 `toml:"worm_play"`
}

type rawSlide struct {
	TravelPerTurn *float64  `toml:"travel_per_turn"`
	Divisions     *float64  `toml:"divisions"`
	Clockwise     *string   `toml:"clockwise"`
	TakeUp        *string   `toml:"take_up"`
	Backlash      *float64  `toml:"backlash"`
	BacklashError *float64  `toml:"backlash_error"`
	Overshoot     *float64  `toml:"overshoot"`
	Figures       *string   `toml:"collar_figures"`
	Readout       bool      `toml:"readout"`
	Lock          bool      `toml:"lock"`
	Travel        []float64 `toml:"travel"`
	ByCollar      bool      `toml:"by_collar"`
	Collar        *string   `toml:"collar"`
	ReadoutStep   *float64  `toml:"readout_step"`
	Miss          *float64  `toml:"miss"`
	rawDirection
}

type rawMachine struct {
	Name  string              `toml:"name"`
	Unit  *string             `toml:"unit"`
	Head  rawRing             `toml:"head"`
	Table rawTable            `toml:"table"`
	Slide map[string]rawSlide `toml:"slide"`
	Gauge rawGauge            `toml:"gauge"`
}

// ParseMachine reads a machine file. name is what messages call it. The error is an *[Error], or [Errors]; with it the machine has
// no more than the slides that could be read.
func ParseMachine(name string, text []byte) (setup.Machine, error) {
	var raw rawMachine
	f, err := decode(name, text, &raw)
	if f == nil {
		return setup.Machine{}, err
	}
	m := setup.Machine{Name: f.text("name", raw.Name)}
	if raw.Unit != nil {
		f.word("unit", raw.Unit, &m.Unit, "mm or in")
	}
	m.Head = f.ring("head", raw.Head)
	m.Table = f.ring("table", raw.Table.rawRing)
	m.Handwheel = f.handwheel(&raw.Table)
	m.HeadLock = raw.Head.Lock || raw.Table.Lock
	for _, key := range slices.Sorted(maps.Keys(raw.Slide)) {
		if !slices.Contains(slideNames, key) {
			f.fail(dotted([]string{"slide", key}), "", "unknown slide %q, need one of %s", key, strings.Join(slideNames, ", "))
		}
	}
	for _, key := range slideNames {
		if r, ok := raw.Slide[key]; ok {
			m.Slides = append(m.Slides, f.slide(key, r, m.Unit))
		}
	}
	m.Miss = f.miss(raw.Slide, m.Unit)
	f.gauge(&raw.Gauge, m.Unit)
	if len(raw.Slide) == 0 && !f.within("slide.") {
		f.fail("slide", "describe at least the slides that are wound: [slide.offset], [slide.x], [slide.y]", "no slide described, need one")
	}
	if f.square(&m); len(f.wrong) > 0 {
		return setup.Machine{Slides: m.Slides}, f.wrong.err()
	}
	return m, nil
}

// miss reads by how much the offset slide's line misses the head axis.
func (f *file) miss(slides map[string]rawSlide, u geom.Unit) float64 {
	for _, key := range slideNames {
		switch r := slides[key]; {
		case r.Miss == nil:
		case key != "offset":
			f.fail("slide."+key+".miss", "", "given for the slide %q, need it at offset only", key)
		default:
			return u.MM(f.number("slide.offset.miss", r.Miss, 0, anyNumber, "a number"))
		}
	}
	return 0
}

// leastMark and mostMark bound what one mark of a ring is worth, degrees: a ring with fewer than twelve marks is none to set by, and
// nobody sees less than a second of arc on one (common practice, no source).
const leastMark, mostMark = 1.0 / 3600, 30

func markFits(x float64) bool { return x >= leastMark && x <= mostMark }

func (f *file) ring(key string, r rawRing) setup.Ring {
	out := setup.Ring{Figures: slide.Anticlockwise}
	out.Zero = geom.FromDegrees(f.number(key+".zero", r.Zero, 0, anyNumber, "a number of degrees"))
	if r.Sense != nil {
		f.word(key+".sense", r.Sense, &out.Figures, "clockwise or anticlockwise (the way the figures grow, seen from above)")
	}
	out.Graduation = float64(geom.FromDegrees(f.number(key+".graduation", r.Graduation, 0, markFits,
		"from a second of arc (1/3600) to 30 degrees")))
	f.vernier(key, r.Vernier, &out)
	return out
}

// leastTurn is the least that a handwheel's turn can move, in the file's unit: less is a slip, and
// would make a wind of more turns than can be counted.
const leastTurn = 0.001

func (f *file) slide(name string, r rawSlide, u geom.Unit) slide.Slide {
	key := func(k string) string { return "slide." + name + "." + k }
	whole := func(x float64) bool { return x == math.Trunc(x) && x >= 1 && x <= 10000 }
	turn := func(x float64) bool { return x >= leastTurn }
	s := slide.Slide{
		Name:          name,
		TravelPerTurn: u.MM(f.need(key("travel_per_turn"), r.TravelPerTurn, turn, fmt.Sprintf("%v %v or above", leastTurn, u))),
		Divisions:     f.need(key("divisions"), r.Divisions, whole, "a whole number of marks from 1 to 10000"),
		Backlash:      u.MM(f.need(key("backlash"), r.Backlash, notNegative, fmt.Sprintf("0 %v or above", u))),
		Overshoot:     u.MM(f.number(key("overshoot"), r.Overshoot, 0, positive, fmt.Sprintf("above 0 %v", u))),
		Figures:       slide.Clockwise,
		Readout:       r.Readout,
		Lock:          r.Lock,
		ByCollar:      r.ByCollar,
	}
	s.BacklashLimit = u.MM(f.number(key("backlash_error"), r.BacklashError, 0, positive, fmt.Sprintf("above 0 %v", u)))
	s.Step = u.MM(f.number(key("readout_step"), r.ReadoutStep, 0, positive, fmt.Sprintf("above 0 %v", u)))
	if r.ReadoutStep != nil && !r.Readout && f.fine(key("readout")) {
		f.fail(key("readout_step"), "", "given without readout = true, need both")
	}
	f.word(key("clockwise"), r.Clockwise, &s.Clockwise, "increase or decrease")
	f.word(key("take_up"), r.TakeUp, &s.TakeUp, "increase or decrease")
	if r.Figures != nil {
		f.word(key("collar_figures"), r.Figures, &s.Figures, "clockwise or anticlockwise (the way to turn for the figures to grow)")
	}
	switch {
	case r.Collar == nil, *r.Collar == "zeroed":
	case *r.Collar == "keeps":
		s.Keeps = true
	default:
		f.fail(key("collar"), "keeps where its figures stay as they are, zeroed where it is set to 0 for each wind",
			"%q, need keeps or zeroed", *r.Collar)
	}
	switch {
	case r.Travel == nil:
	case len(r.Travel) != 2 || !(r.Travel[0] < r.Travel[1]) || math.IsInf(r.Travel[0], 0) || math.IsInf(r.Travel[1], 0):
		f.fail(key("travel"), "the lower and the upper end by the slide's own scale, like [0, 60]", "%v, need two numbers, the lower first",
			r.Travel)
	default:
		s.Low, s.High = u.MM(r.Travel[0]), u.MM(r.Travel[1])
	}
	f.direction(key, r.rawDirection, &s)
	if s.Overshoot > 0 && s.Overshoot <= s.Backlash {
		f.fail(key("overshoot"), "", "%v %v does not take up a backlash of %v %v, must be above it", *r.Overshoot, u, *r.Backlash, u)
	}
	return s
}

// Match checks that the machine has every slide the job winds. The error is an *[Error] that
// names the machine's file, or [Errors].
func Match(j *setup.Job, m *setup.Machine, machineFile string) error {
	tapped := *j
	tapped.Setup.Taps = setup.Taps(j, m)
	j = &tapped
	var missing Errors
	needs := j.Needs()
	if j.Target.Trial { // set by scale before the sweep, and wound behind the trial cut
		needs = append(slices.Clip(needs), "offset")
	}
	for _, name := range needs {
		if _, ok := m.Slide(name); !ok {
			missing = append(missing, &Error{File: machineFile, Key: "slide." + name, Why: "missing, needed to wind this job",
				Hint: fmt.Sprintf("describe it under [slide.%s]", name)})
		}
	}
	if missing == nil && j.About != nil && j.Setup.Taps {
		missing = Errors{{File: machineFile, Key: "slide.table_x",
			Why:  "missing, needed to carry the work from the reference to the arc's centre",
			Hint: "describe table_x and table_y, or set a pin about the arc's centre and tap that over the axis"}}
	}
	if missing == nil {
		missing = within(j, m, machineFile)
	}
	return missing.err()
}
