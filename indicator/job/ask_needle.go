package job

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// NeedleQuestions ask for the needle test of slides of a machine that is known, which f.Machine has to be. What they find is told
// beside what is stated, and goes into the machine's file where it is taken: see [Asking.Needle] and [Asking.Changes].
func NeedleQuestions(f Facts) Asking { return Asking{form: &needleForm, given: answers{Facts: f}} }

// needleForm is what is asked for a test by itself. No file is made of it.
var needleForm = form{
	name: "needle test",
	rows: func(a *answers) (out []placed) {
		for i := range needleAsks {
			out = append(out, placed{&needleAsks[i], needleAsks[i].table()})
		}
		out = append(out, needleDialRows()...)
		for _, s := range a.needleSlides() {
			out = append(out, a.needleRows(s)...)
			for i := range takeAsks {
				out = append(out, placed{&takeAsks[i], "needle." + s})
			}
		}
		return out
	},
	read: func(*answers, []byte) error { return nil },
}

// table is where a question of the test stands that is about no slide: only the unit stands alone.
func (q *asks) table() string {
	if q.key == "unit" {
		return ""
	}
	return "needle"
}

// allSlides is the answer that has them tested one after the other.
const allSlides = "all"

var needleAsks = []asks{
	{key: "unit", kind: words("mm", "in"), text: says("in which unit the dial is read"),
		def:  func(a *answers, _ string) string { return a.Unit.String() },
		help: "The dial's unit. The machine's file names its own, and keeps it."},
	{key: "slide", kind: choices(func(a *answers, _ string) (out []choice) {
		for _, s := range a.Machine.Slides {
			out = append(out, choice{words: s.Name, toml: quote(s.Name)})
		}
		return append(out, choice{words: allSlides, toml: quote(allSlides)})
	}), def: func(a *answers, _ string) string {
		if len(a.Machine.Slides) == 1 {
			return a.Machine.Slides[0].Name
		}
		return allSlides
	}, text: says("which slide is tested by the needle; all is one after the other"),
		help: "The test finds which way a slide goes, how far a turn moves it, and its play. It needs an indicator, and a flat\n" +
			"face on the work, or a block or jaw, that stands square to the slide."},
}

// needleSlides are those that are tested, in their order.
func (a *answers) needleSlides() (all []string) {
	if a.Machine == nil { // of a machine that is being asked for
		for _, s := range strings.Fields(a.typed(slidesKey)) {
			if a.of(useKey("slide."+s)) != nil {
				all = append(all, s)
			}
		}
		return all
	}
	for _, s := range a.Machine.Slides {
		if one := a.word("needle.slide"); one == allSlides || one == s.Name {
			all = append(all, s.Name)
		}
	}
	return all
}

// The kinds of dial by their words.
const plunger, lever = "plunger", "lever"

// needleRanges are how far the tip of a common dial goes in all, in its unit, by its kind (common practice, no source).
var needleRanges = [...]map[string]float64{
	geom.Millimetre: {plunger: 10, lever: 0.8},
	geom.Inch:       {plunger: 0.5, lever: 0.03},
}

var needleDialAsks = []asks{
	{key: "kind", kind: words(plunger, lever), def: says(plunger), text: says("which indicator the slide is tested with"),
		help: "A plunger shows how far a slide goes. A lever shows which way, and the backlash: what its needle makes of a way\n" +
			"is not known."},
	{key: "graduation", kind: number{unit: inUnit, common: func(a *answers) (out []string) {
		for _, d := range dials[a.unit()] {
			out = append(out, decimal(d.graduation))
		}
		return out
	}}, def: func(a *answers, _ string) string { return decimal(dials[a.unit()][0].graduation) }, check: positiveFigure,
		text: says("what one mark of the dial is worth"), help: "It stands on the dial's face. It is read to a fifth of a mark."},
	{key: "range", kind: number{unit: inUnit}, check: roomForNeedle,
		def: usualRange, text: rangeText,
		help: "From where it hangs free to where it is pressed home. No way is told that would drive it farther."},
}

func needleDialRows() (out []placed) {
	for i := range needleDialAsks {
		out = append(out, placed{&needleDialAsks[i], "needle"})
	}
	return out
}

func positiveFigure(a *answers, _ string, g *Given) error {
	if v, err := geom.ParseNumber(g.toml); err != nil || v <= 0 {
		return unfit("", "%s, need a number of %v above 0", g.Typed, a.unit())
	}
	return nil
}

// usualRange is that of a common dial, where it is enough for the slides that are to be tested; else empty.
func usualRange(a *answers, in string) string {
	usual := decimal(needleRanges[a.unit()][a.word("needle.kind")])
	if roomForNeedle(a, in, &Given{Key: "needle.range", Typed: usual, toml: usual}) != nil {
		return ""
	}
	return usual
}

func rangeText(a *answers, in string) string {
	const asks = "how far the dial's tip goes in all"
	if name, least := a.needsRange(); usualRange(a, in) == "" {
		return fmt.Sprintf("%s; the marks of the %s slide's collar need %s %v at least", asks, name, decimal(least), a.unit())
	}
	return asks
}

// needsRange is the slide whose collar needs the farthest range, and that range in the unit of the dial, rounded up.
func (a *answers) needsRange() (name string, least float64) {
	u := a.unit()
	places := math.Pow10(geom.Places(0, u))
	for _, s := range a.needleSlides() {
		t := a.needleTest(s)
		if r := math.Ceil(u.From(t.LeastRange())*places-1e-9) / places; r > least {
			name, least = s, r
		}
	}
	return name, least
}

// roomForNeedle refuses a dial that is too small for the collar of a slide that it is to test.
func roomForNeedle(a *answers, in string, g *Given) error {
	if err := positiveFigure(a, in, g); err != nil {
		return err
	}
	now := answers{Facts: a.Facts, all: append(a.all[:len(a.all):len(a.all)], *g)}
	for _, s := range now.needleSlides() {
		if t := now.needleTest(s); t.Done() {
			return unfit("take an indicator that goes farther: back goes to which one; or test another slide",
				"%s %v is less than the marks of the %s slide's collar need", g.Typed, a.unit(), s)
		}
	}
	return nil
}

// needleName is the slide in a key of the test.
func needleName(key string) string {
	parts := strings.Split(key, ".")
	return parts[min(1, len(parts)-1)]
}

// ofNeedle is a text about the slide that is tested.
func ofNeedle(format string) func(*answers, string) string {
	return func(a *answers, in string) string { return about(format)(a, "slide."+needleName(in)) }
}

// movesUp brings the play shut: in a first round from anywhere, later from where the last one ended, to its first mark.
func (a *answers) movesUp(in string) []slide.Move {
	t := a.needleTest(needleName(in))
	t.Rounds = t.Rounds[:min(len(t.Rounds), roundOf(in)-1)]
	w, _ := t.Ways()
	if len(t.Rounds) == 0 {
		return []slide.Move{t.Slide.Counted(slide.Clockwise, w.Before)}
	}
	last := t.Rounds[len(t.Rounds)-1]
	past := last.On - last.Back // where the collar stands, counted from the mark of the first reading
	if past+w.Before <= 0 {     // far enough back already
		return []slide.Move{t.Slide.Counted(slide.Clockwise, -past)}
	}
	return []slide.Move{t.Slide.Counted(slide.Anticlockwise, past+w.Before), t.Slide.Counted(slide.Clockwise, w.Before)}
}

func (a *answers) movesOn(in string) []slide.Move {
	t, w := a.waysOf(in)
	return []slide.Move{t.Slide.Counted(slide.Clockwise, w.On)}
}

func (a *answers) movesBack(in string) []slide.Move {
	t, w := a.waysOf(in)
	return []slide.Move{t.Slide.Counted(slide.Anticlockwise, w.Back)}
}

// waysOf are the ways of a round, planned by those before it.
func (a *answers) waysOf(in string) (slide.NeedleTest, slide.NeedleWays) {
	t := a.needleTest(needleName(in))
	t.Rounds = t.Rounds[:min(len(t.Rounds), roundOf(in)-1)]
	w, _ := t.Ways()
	return t, w
}

// roundOf is the number of a round in its table.
func roundOf(in string) (n int) {
	_, _ = fmt.Sscanf(in[strings.LastIndex(in, "_")+1:], "%d", &n)
	return n
}

// onDial refuses a reading that the dial cannot show beside those before it.
func onDial(a *answers, in string, g *Given) error {
	v, err := geom.ParseNumber(g.toml)
	reach, _ := a.number("needle.range")
	if err != nil {
		return nil
	}
	for _, key := range []string{"read_1", "read_2"} {
		if before, ok := a.number(in + "." + key); ok && math.Abs(v-before) > reach {
			return unfit("read it again, with the whole turns of the needle", "%s is farther from %v %v than the dial goes, %v in all",
				g.Typed, before, a.unit(), reach)
		}
	}
	return nil
}

// needleRows are the questions about one slide, as many rounds as it takes.
func (a *answers) needleRows(name string) (out []placed) {
	in := "needle." + name
	for i := range needleSlideAsks {
		out = append(out, placed{&needleSlideAsks[i], in})
	}
	t := a.needleTest(name)
	rounds := len(t.Rounds)
	if !t.Done() {
		rounds++
	}
	for n := 1; n <= rounds; n++ {
		for i := range readAsks {
			out = append(out, placed{&readAsks[i], fmt.Sprintf("%s.round_%d", in, n)})
		}
		if n >= slide.NeedleRounds {
			out = append(out, placed{&againAsk, fmt.Sprintf("%s.round_%d", in, n)})
		}
	}
	return out
}

// roundMarks are what a mark of a collar is commonly worth, in its unit (common practice, no source).
var roundMarks = [...][]float64{
	geom.Millimetre: {0.01, 0.02, 0.025, 0.05, 0.1},
	geom.Inch:       {0.0005, 0.001, 0.002, 0.005},
}

// commonTravels are those commonly found of a turn, and those with which the marks of a collar are round, millimetres.
func commonTravels(u geom.Unit, divisions float64) (all []float64) {
	for _, c := range collars[u] {
		all = append(all, u.MM(c.travel))
	}
	for _, m := range roundMarks[u] {
		all = append(all, u.MM(m*divisions))
	}
	return all
}

// needleTest is the test of a slide, with the rounds that are answered in full.
func (a *answers) needleTest(name string) slide.NeedleTest {
	u := a.unit()
	mm := func(key string) float64 {
		v, _ := a.number(key)
		return u.MM(v)
	}
	s, fileUnit, stated := a.underTest(name)
	t := slide.NeedleTest{Slide: s, Unstated: !stated, Common: commonTravels(fileUnit, s.Divisions),
		Dial:  slide.NeedleDial{Lever: a.word("needle.kind") == lever, Graduation: mm("needle.graduation"), Range: mm("needle.range")},
		Grows: a.word("needle."+name+".pressing") == "grows", Ahead: a.word("needle."+name+".side") == "ahead"}
	for n := 1; ; n++ {
		in := fmt.Sprintf("needle.%s.round_%d.", name, n)
		if a.of(in+"read_3") == nil {
			return t
		}
		w, _ := t.Ways()
		t.Rounds = append(t.Rounds, slide.NeedleRound{On: w.On, Back: w.Back,
			Stand: mm(in + "read_1"), Went: mm(in + "read_2"), Came: mm(in + "read_3")})
		if struck, _ := a.number(in + againKey); struck > 0 {
			t.Rounds[int(struck)-1].Struck = true
		}
	}
}

// underTest is a slide as it is stated, and the unit of the file that states it; stated is false where the travel of a turn is not,
// and is a guess on the large side.
func (a *answers) underTest(name string) (s slide.Slide, u geom.Unit, stated bool) {
	if a.Machine == nil {
		return a.asked(name)
	}
	i := slices.IndexFunc(a.Machine.Slides, func(s slide.Slide) bool { return s.Name == name })
	return a.Machine.Slides[i], a.Machine.Unit, true
}
