package lines_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// shape says what a JSON value has to be; it returns what is wrong, or nothing.
type shape func(v any) string

func text(v any) string { return only[string](v, "a text") }
func flag01(v any) string {
	return only[bool](v, "true or false")
}
func number(v any) string { return only[float64](v, "a number") }

func only[T any](v any, want string) string {
	if _, ok := v.(T); !ok {
		return fmt.Sprintf("%v, want %s", v, want)
	}
	return ""
}

func whole(v any) string {
	if f, ok := v.(float64); !ok || f != math.Trunc(f) || f < 0 {
		return fmt.Sprintf("%v, want a whole number of 0 or more", v)
	}
	return ""
}

func none(v any) string {
	if v != nil {
		return fmt.Sprintf("%v, want null", v)
	}
	return ""
}

func or(a, b shape) shape {
	return func(v any) string {
		if x := a(v); x != "" {
			if y := b(v); y != "" {
				return x + ", or " + y
			}
		}
		return ""
	}
}

func word(words ...string) shape {
	return func(v any) string {
		if s, ok := v.(string); !ok || !slices.Contains(words, s) {
			return fmt.Sprintf("%v, want one of %v", v, words)
		}
		return ""
	}
}

func list(each shape) shape {
	return func(v any) string {
		all, ok := v.([]any)
		if !ok {
			return fmt.Sprintf("%v, want a list", v)
		}
		for i, x := range all {
			if bad := each(x); bad != "" {
				return fmt.Sprintf("[%d]: %s", i, bad)
			}
		}
		return ""
	}
}

// object has exactly these keys; one that ends in "?" may be left out.
func object(keys map[string]shape) shape {
	return func(v any) string {
		m, ok := v.(map[string]any)
		if !ok {
			return fmt.Sprintf("%v, want an object", v)
		}
		for k, s := range keys {
			name, optional := strings.CutSuffix(k, "?")
			x, there := m[name]
			if !there && !optional {
				return name + " is missing"
			}
			if bad := s(x); there && bad != "" {
				return name + ": " + bad
			}
		}
		for k := range m {
			if keys[k] == nil && keys[k+"?"] == nil {
				return k + " is not in the design"
			}
		}
		return ""
	}
}

// The text interface as the design has it: what a program on the other end of the pipe relies on.
var (
	value    = object(map[string]shape{"value": number, "u95": or(number, none)})
	centre   = object(map[string]shape{"x": value, "y": value})
	verdict  = word("inside", "outside", "undecided", "none")
	verdicts = object(map[string]shape{"radius": verdict, "centre": verdict})
	assumed  = list(word("reach", "reference_radius", "reference_form", "dial", "held_radius"))
	room     = object(map[string]shape{"radius": or(number, none), "centre": or(number, none)})
	moves    = list(object(map[string]shape{"turn": word("clockwise", "anticlockwise"), "turns": whole, "divisions": number}))
	fromTo   = object(map[string]shape{"from": number, "to": number})
	suspects = list(object(map[string]shape{"reading": whole, "residual": number, "because": word("revolution", "ten divisions", "sign",
		"swapped", "unknown"), "would_be": or(number, none)}))
	lobes  = object(map[string]shape{"two_lobe": number, "three_lobe": or(number, none), "significant": flag01})
	budget = list(object(map[string]shape{"part": word("readings", "reference radius", "reach", "dial error", "lever angle", "drift",
		"tilt", "held radius"), "u": number, "dof": or(number, none)}))
	park = object(map[string]shape{"bearing": number, "table": or(number, none), "collar": number, "reading_now": number,
		"reading_past": or(number, none), "reading_goal": number, "vernier?": mark})
	mark    = object(map[string]shape{"degrees": number, "minutes": number})
	turning = object(map[string]shape{"table": number, "collar": number, "vernier?": mark})

	result  = object(map[string]shape{"swing": or(none, value), "centre": or(none, centre)})
	tangled = object(map[string]shape{"bearing": number, "radius_u95": number, "centre_u95": number, "together_u95": number,
		"difference": flag01, "held_u95": number})

	cause = object(map[string]shape{"cause": word("", "touch", "clockwise", "zero", "sense", "exchange", "unmoved", "dial"),
		"slides": list(slides), "turn": or(number, none), "key": or(text, none), "was": or(text, none), "is": or(text, none),
		"change": text})

	fitKeys = map[string]shape{
		"unit": word("mm", "in"), "setup": word("carried", "turned", "points"), "touch": word("bore", "boss"), "readings": whole,
		"ring?": number, "early?": object(map[string]shape{"taken": whole, "of": whole, "why": text}),
		"radius": or(none, value), "swing": or(none, value), "centre": or(none, centre), "offset": or(number, none),
		"bearing": or(number, none),
		"sigma":   or(number, none), "dof": or(number, none), "residuals": list(number), "suspects": suspects, "shape": or(none, lobes),
		"roundness": none, "drift?": value, "tangled?": tangled, "table?": number, "budget": budget, "limits": or(none, text),
		"verdict": verdicts, "assumed_exact": assumed, "room": room, "notes": list(text),
	}
	slides = word("x", "y", "table_x", "table_y", "offset")
	kinds  = map[string]shape{
		"load": object(map[string]shape{"say": text, "slide": slides, "moves": moves, "turn?": turning}),
		"ask": object(map[string]shape{"say": text, "trial": whole, "station": whole, "of": whole, "bearing": number,
			"table": or(number, none), "collar": number, "expected": or(none, value), "again": flag01, "closing?": flag01,
			"vernier?": mark, "whole_numbers?": word("thousandths")}),
		"reading": object(map[string]shape{"say": text, "trial": whole, "station": whole, "bearing": number, "value": number,
			"surprise": flag01, "because": or(text, none), "would_be": or(number, none)}),
		"fit": object(joined(fitKeys, map[string]shape{"say": text, "trial": whole})),
		"wind": object(map[string]shape{"say": text, "trial": whole, "step": whole, "of": whole, "slide": slides, "travel": number,
			"moves": moves, "park": or(none, park), "collar": fromTo, "turn?": turning, "readout": or(none, fromTo), "notes": list(text),
			"taken_back?": text, "first?": text, "whole_numbers?": word("thousandths")}),
		"settled": object(map[string]shape{"say": text, "trial": whole, "swing": or(none, value), "centre": or(none, centre),
			"verdict": verdicts, "assumed_exact": assumed, "room": room}),
		"accepted": object(map[string]shape{"say": text, "trial": whole, "trials": whole}),
		"resumed":  object(map[string]shape{"say": text, "trial": whole, "readings": whole}),
		"refused":  object(map[string]shape{"say": text, "input": text, "because": text, "hint?": text}),
		"paused":   object(map[string]shape{"say": text, "journal_lines": whole}),
		// These the design leaves open.
		"wound":  object(map[string]shape{"say": text, "trial": whole, "slide": slides, "value": number, "goal": number}),
		"drift":  object(map[string]shape{"say": text, "trial": whole, "change": value, "as_is": result, "evened": result}),
		"evened": object(map[string]shape{"say": text, "trial": whole}),
		"sense": object(map[string]shape{"say": text, "trial": whole, "slide": text, "bearing": or(number, none),
			"went": or(word("up", "down", "did not move", "moved only on the way back"), none), "agrees": or(flag01, none),
			"fault":   or(word("none", "dial", "touch", "clockwise", "touch or clockwise", "bearings"), none),
			"causes?": list(cause)}),
		"check": object(map[string]shape{"say": text, "trial": whole, "slide": or(slides, none), "bearing": or(number, none),
			"table": or(number, none), "collar": or(number, none), "divisions": or(number, none), "answers": list(text),
			"causes": list(cause)}),
		"restated":    object(map[string]shape{"say": text, "key": text, "was": text, "is": text, "write": text}),
		"passed over": object(map[string]shape{"say": text, "trial": whole}),
		"differs": object(map[string]shape{"say": text, "trial": whole,
			"changes": list(object(map[string]shape{"key": text, "was": text, "is": text}))}),
		"back": object(map[string]shape{"say": text, "winds": list(object(map[string]shape{"slide": slides, "moves": moves})),
			"clear": flag01}),
		"suspect": object(map[string]shape{"say": text, "trial": whole, "went": list(number), "should": list(number),
			"causes": list(cause)}),
		"height": object(map[string]shape{"say": text, "trial": whole, "height": number}),
		"tilt": object(map[string]shape{"say": text, "trial": whole, "height": number, "tilt": or(value, none),
			"bearing": or(number, none), "stated": or(number, none), "limit": or(number, none), "at_cutter": or(number, none)}),
		"held":     object(map[string]shape{"say": text, "trial": whole, "radius": number, "limit": number}),
		"released": object(map[string]shape{"say": text, "trial": whole, "radius": none, "limit": none}),
		"bias": object(map[string]shape{"say": text, "arcs": whole, "left_out": whole, "metal": word("inside", "outside"), "swing": number,
			"by": or(value, none), "because": text,
			"assumed": object(map[string]shape{"measured_error": or(number, none), "reach_error": or(number, none),
				"cutter_error": or(number, none)})}),
		"biased": object(map[string]shape{"say": text, "trial": whole, "by": number, "swing": number}),
		"stated": object(map[string]shape{"say": text, "trial": whole, "key": text, "was": or(number, none), "limit": number,
			"write": text}),
		"read collar": object(map[string]shape{"say": text, "trial": whole, "slide": text, "divisions": number}),
		"collar":      object(map[string]shape{"say": text, "trial": whole, "slide": text, "figure": number}),
		"at":          object(map[string]shape{"say": text, "trial": whole, "slide": text, "at": number}),
		"bezel":       object(map[string]shape{"say": text, "trial": whole, "showed": number, "shows": number}),
		"start":       object(map[string]shape{"say": text, "slide": word("offset"), "collar": value, "turns": whole, "divisions": number}),
		"odd":         object(map[string]shape{"say": text, "trial": whole, "slide": text, "because": text, "off": or(none, value)}),
		"taught": object(map[string]shape{"say": text, "slide": text, "gain": or(none, value), "origin": or(none, value),
			"miss":     or(none, object(map[string]shape{"low": number, "high": number})),
			"backlash": or(none, value), "lock": or(none, value), "angle": or(none, value), "square": or(none, value), "trials": whole,
			"from": list(text)}),
		"doubt": object(map[string]shape{"say": text, "trial": whole, "station": whole, "because": word("revolution", "ten divisions",
			"sign", "swapped", "unknown"), "would_be": or(number, none)}),
		"kept": object(map[string]shape{"say": text, "trial": whole, "station": whole}),
		"skipped": object(map[string]shape{"say": text, "trial": whole, "station": whole, "bearing": number,
			"off": word("", "pressed", "free")}),
		"undone": object(map[string]shape{"say": text, "trial": whole, "entry": word("loaded", "reading", "skipped", "again", "swept",
			"wound", "kept", "note", "evened", "held", "biased", "stated", "at", "collar", "bezel", "sense", "height",
			"restated", "passed over", "ticked")}),
		"again":   object(map[string]shape{"say": text, "trial": whole, "because": text}),
		"stuck":   object(map[string]shape{"say": text, "trial": whole, "because": text}),
		"formed":  object(map[string]shape{"say": text, "two_lobe": or(none, number), "three_lobe": or(none, number)}),
		"planned": object(map[string]shape{"say": text, "stated": whole, "stations": whole}),
		"help":    object(map[string]shape{"say": text, "text": text}),
		"noted":   object(map[string]shape{"say": text, "note": text}),
		"ticked":  object(map[string]shape{"say": text, "n": whole}),
	}
)

func joined(a, b map[string]shape) map[string]shape {
	out := map[string]shape{}
	for _, m := range []map[string]shape{a, b} {
		for k, s := range m {
			out[k] = s
		}
	}
	return out
}

// everything says every kind of object, in the variants that matter.
func everything(t testing.TB) []lines.Line {
	t.Helper()
	all := say(replay(t, "v1-every-kind.jsonl"), geom.Millimetre)
	all = append(all, say(replay(t, "v1-practice-7.jsonl"), geom.Inch)...)
	all = append(all, say(replay(t, "v1-misread.jsonl"), geom.Inch)...)
	all = append(all, say(replay(t, "v1-restated.jsonl"), geom.Inch)...)
	all = append(all, say(replay(t, "v1-stated.jsonl"), geom.Inch)...)
	all = append(all, say(replay(t, "v1-collars.jsonl"), geom.Inch)...)
	all = append(all, say(replay(t, "v1-turned.jsonl"), geom.Inch)...)
	all = append(all, say(replay(t, "v1-plate.jsonl"), geom.Inch)...)

	s := begin(t, bench(t, func(o *session.Opened) { o.Job.Dial.Repeatability, o.Job.Sweep = 0, threeOnAPart })).loaded()
	s.do(session.Take{Reading: 0.1}, session.Take{Reading: 0.2}, session.Take{Reading: 0.1})
	all = append(all, s.said...) // a fit without any uncertainty
	s = begin(t, bench(t, func(o *session.Opened) { o.Job.Dial.From, o.Job.Dial.To, o.Job.Sweep = 0, 0, threeOnAPart })).loaded()
	for _, r := range []float64{50, -25, -25, 25, -50, 25} {
		s.do(session.Take{Reading: r})
		all = append(all, s.said...) // no circle fits, and at last no station is left
	}
	s = begin(t, bench(t, func(o *session.Opened) {
		o.Job.Target.SwingRadius, o.Job.Setup.ReachKnown = 0, false
		for i := range o.Machine.Slides {
			o.Machine.Slides[i].Readout = true
		}
	})).loaded()
	s.read(0.3, 0.15, -0.15, -0.3, -0.15, 0.15)
	all = append(all, s.said...) // no swing radius, and a readout
	s = begin(t, bench(t, func(o *session.Opened) { o.Job.Target.SwingRadius, o.Job.Setup.ReachKnown = 0, false })).loaded()
	s.read(0, 0, 0, 0, 0, 0)
	all = append(all, s.said...) // settled without a swing radius
	s = begin(t, bench(t, func(o *session.Opened) { o.Job.Sweep.Stations = 12 }))
	all = append(all, s.said...) // a round that is planned otherwise
	s = begin(t, bench(t, func(o *session.Opened) {
		o.Forms = []session.Formed{{Radius: o.Job.Setup.ReferenceRadius, Touch: o.Job.Setup.Touch, Two: 0.004}}
	}))
	all = append(all, s.said...) // a reference whose form has been shown
	all = append(all, doubts(t)...)
	all = append(all, taught(t)...)
	all = append(all, fedBack(t)...)
	st := s.live.State()
	_, err := s.live.Do(session.Enough{}, st1970)
	asked := st.Prompt()
	return append(all, lines.Help(&st, &asked), lines.Resumed(&st), lines.Refused("enough", err),
		lines.Refused("12,3,4", errors.New("more than one decimal mark")),
		lines.Paused(31))
}

// taught says what is said of closing readings and drift, of a held radius, of winds under the needle and
// of what the machine has taught.
func taught(t testing.TB) (all []lines.Line) {
	t.Helper()
	lock := func(o *session.Opened) {
		o.Job.Sweep.Closing, o.Job.Sweep.AtLeast = true, 6
		o.Job.Setup.TiltLimit, o.Job.Setup.SweepHeight = 0.0001, 20
		for i := range o.Machine.Slides {
			o.Machine.Slides[i].Lock = true
		}
	}
	s := begin(t, bench(t, lock)).loaded()
	say := func(commands ...session.Command) {
		for _, c := range commands {
			s.do(c)
			all = append(all, s.said...)
		}
	}
	for _, m := range []float64{-0.1, 0, 0.105, 0.118, 0.031, -0.063, -0.064} {
		say(session.Take{Reading: m})
	}
	say(session.Even{}, session.Undo{}, session.Even{}, session.Hold{Radius: 42.03, Limit: 0.002}, session.Undo{},
		session.Hold{Radius: 42.03, Limit: 0.002}, session.Release{})
	say(session.At{Slide: "offset", At: 42.35}, session.Undo{})
	say(session.Bezel{Showed: 0.1, Shows: 0}, session.Undo{}, session.Sense{Slide: "x", Went: session.Down},
		session.Sense{Slide: session.Tip, Went: session.Up}, session.Skip{})
	asked := s.live.State()
	all = append(all, lines.SenseAsk(&asked, "y"))
	waiting := s.live.State()
	say(session.Raise{Height: 30})
	s.read(-0.1, 0, 0.105, 0.118, 0.031, -0.063)
	all = append(all, s.said...)
	say(session.Take{Reading: waiting.Prompt().Wind.Told.Park.Goal + 0.004})

	// A machine that has taught its offset slide's radii; then the ring has slipped.
	b := slide.Prior(slide.Slide{Name: "offset", TravelPerTurn: 2, Divisions: 100})
	for _, r := range []float64{30, 38, 52} {
		b, _ = b.SeenRadius(slide.RadiusSeen{Count: r + 0.5, R: r, U: 0.002, Common: 0.003, Setup: 1})
	}
	s = begin(t, bench(t, func(o *session.Opened) {
		o.Lessons = []setup.Taught{{Slide: "offset", Lesson: b, From: []string{"plate.jsonl"}}}
	}))
	all = append(all, s.said...) // what the machine has taught, and where to start
	s.loaded()
	say(session.At{Slide: "offset", At: 43})
	s.read(0, 0, 0, 0, 0, 0)
	say(session.Accept{})

	// An arc too short to tell the radius from the centre.
	s = begin(t, bench(t, func(o *session.Opened) { o.Job.Sweep.From, o.Job.Sweep.To = 0.3, 1.3 })).loaded()
	s.read(-0.068, -0.07, -0.063, -0.05, -0.03, -0.005)
	return append(all, s.said...)
}

// doubts says what is said of readings that do not fit: surprises, doubts with and without a cause,
// a reading kept, and limits stated for everything that can have one.
func doubts(t testing.TB) (all []lines.Line) {
	t.Helper()
	limits := func(o *session.Opened) {
		o.Job.Sweep.Stations, o.Job.Dial.LeverAngle = 8, 0.3
		o.Job.Setup.ReferenceLimit, o.Job.Setup.ReachLimit, o.Job.Dial.ErrorLimit, o.Job.Dial.LeverLimit = 0.002, 0.004, 0.002, 0.05
	}
	for _, slip := range []float64{0.1, 0.237} {
		s := begin(t, bench(t, limits)).loaded()
		for i := range 8 {
			m := 0.2
			if i == 5 {
				m += slip
			}
			s.do(session.Take{Reading: m})
			all = append(all, s.said...)
		}
		s.do(session.Keep{})
		all = append(all, s.said...)
		s.do(session.Undo{})
		all = append(all, s.said...)
		s.do(session.Take{Reading: 0.2})
		all = append(all, s.said...)
	}
	return all
}

// Every object has the design's keys, all of them and no others, each of its type.
func TestKeys(t *testing.T) {
	seen := map[string]int{}
	for _, l := range everything(t) {
		raw := encode(t, l)
		m := decoded(t, raw).(map[string]any)
		kind, _ := m["say"].(string)
		seen[kind]++
		if kinds[kind] == nil {
			t.Fatalf("%s: unknown kind %q", raw, kind)
		}
		if bad := kinds[kind](m); bad != "" {
			t.Errorf("%s: %s\n%s", kind, bad, raw)
		}
		if !strings.HasPrefix(string(raw), `{"say":"`+kind+`"`) {
			t.Errorf("%s does not begin with what it says", raw)
		}
	}
	for kind := range kinds {
		if seen[kind] == 0 {
			t.Errorf("%q was not said, so nothing was checked of it", kind)
		}
	}
}

// threeOnAPart are three stations, of which no whole round is made.
var threeOnAPart = setup.Sweep{Stations: 3, To: 240 * geom.Degree}

// Both sides of what may be null are seen, or the types above prove little.
func TestNullsAndNumbersAreSeen(t *testing.T) {
	seen := map[string]bool{}
	var note func(path string, v any)
	note = func(path string, v any) {
		seen[fmt.Sprintf("%s %v", path, v == nil)] = true
		if m, ok := v.(map[string]any); ok {
			for k, x := range m {
				note(path+"."+k, x)
			}
		}
	}
	for _, l := range everything(t) {
		m := decoded(t, encode(t, l)).(map[string]any)
		note(m["say"].(string), m)
	}
	for _, path := range []string{"ask.expected", "fit.swing", "fit.swing.u95", "fit.centre", "fit.centre.x.u95", "fit.offset",
		"fit.bearing", "fit.sigma", "settled.swing", "wind.readout",
		"fit.shape", "fit.shape.three_lobe", "fit.limits", "reading.because", "reading.would_be", "doubt.would_be", "bias.by",
		"fit.room.radius", "fit.room.centre", "settled.room.radius", "settled.room.centre",
		"bias.assumed.reach_error"} {
		for _, null := range []bool{true, false} {
			if !seen[fmt.Sprintf("%s %v", path, null)] {
				t.Errorf("%s is never seen with null %v", path, null)
			}
		}
	}
}
