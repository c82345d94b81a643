package job

import (
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// A figure that is found here is answered with that it is to be found; questions behind it ask for the readings, whose answers are
// written in no file, and the last of them shows what they make, which is taken or read again.
const (
	FindHere     = "find it here"
	findHereWord = "find"

	takeIt    = "take it"
	readAgain = "read again"
)

// found is what an answer has to do with a figure that is found here.
type found struct {
	later  bool // the figure is found by the questions behind
	aside  bool // the answer leads to a figure, and is not written itself
	also   []written
	record *setup.Found
	again  string // the key of the question that is gone back to; empty for none
}

// written is a line of the file.
type written struct{ key, toml, note string }

// writes are the lines of the file, without their order by tables.
func (a *answers) writes() (out []written) {
	for _, g := range a.all {
		if g.toml != "" && !g.aside && !ofTest(g.Key) {
			out = append(out, written{g.Key, g.toml, g.note})
		}
		out = append(out, g.also...)
	}
	return out
}

// foundAs is what was found for a key, as it is written; empty for nothing.
func (a *answers) foundAs(key string) string {
	for _, g := range a.all {
		for _, w := range g.also {
			if w.key == key {
				return w.toml
			}
		}
	}
	return ""
}

// settled reports whether a key is answered, what is still to be found left out.
func (a *answers) settled(key string) bool {
	g := a.of(key)
	return g != nil && !g.later || a.foundAs(key) != ""
}

// index is where the answer to a key stands; behind all of them where there is none.
func (a *answers) index(key string) int {
	if i := slices.IndexFunc(a.all, func(g Given) bool { return g.Key == key }); i >= 0 {
		return i
	}
	return len(a.all)
}

// finds reports whether a figure is to be found here.
func (a *answers) finds(key string) bool { return a.typed(key) == FindHere }

// Found are the figures that were found here, with the readings that they come from.
func (q Asking) Found() (out []setup.Found) {
	for _, g := range q.given.all {
		if g.record != nil {
			out = append(out, *g.record)
		}
	}
	return out
}

// figureOr is a figure, or the word that it is to be found here.
type figureOr struct{ number }

func (k figureOr) describe(a *answers, q *Question) {
	k.number.describe(a, q)
	q.Choices = append(q.Choices, FindHere)
}

func (k figureOr) read(a *answers, q *Question, text string) (meant, error) {
	if strings.EqualFold(text, FindHere) || strings.EqualFold(text, findHereWord) {
		return meant{said: FindHere, found: &found{later: true}}, nil
	}
	return k.number.read(a, q, text)
}

// taking shows what some readings make, to be taken or read again.
type taking struct {
	make func(a *answers) (finding, error)
	from []string // the first reading, by the keys that it may have
}

// finding is what readings make: the lines that it writes, with what they say of themselves, and what is kept of it.
type finding struct {
	says   string
	also   []written
	record setup.Found
}

func (taking) describe(_ *answers, q *Question) {
	q.Choices, q.Closed = []string{takeIt, readAgain}, true
}

func (k taking) read(a *answers, q *Question, text string) (meant, error) {
	one, ok := choose([]choice{{words: takeIt}, {words: readAgain}}, text)
	switch {
	case !ok:
		return meant{}, unfit("", "%q, need %s", text, how(q))
	case one.words == readAgain:
		i := slices.IndexFunc(k.from, func(key string) bool { return a.of(key) != nil })
		return meant{said: readAgain, found: &found{again: k.from[max(i, 0)]}}, nil
	}
	f, err := k.make(a)
	if err != nil {
		return meant{}, unfit(readAgain+" begins with the first reading, "+Back+" with the last", "%v", err)
	}
	return meant{said: takeIt, found: &found{also: f.also, record: &f.record}}, nil
}

// shown is the text of what is taken.
func (k taking) shown(a *answers, _ string) string {
	f, err := k.make(a)
	if err != nil {
		return "nothing follows from these readings: " + err.Error()
	}
	return f.says + ": take it, or read again"
}

// dial is the dial as far as it is answered, or stated.
func (a *answers) dial() indicator.Dial {
	u := a.unit()
	mm := func(key string) float64 {
		v, _ := a.number(key)
		return u.MM(v)
	}
	rad := func(key string) float64 {
		v, _ := a.number(key)
		return float64(geom.FromDegrees(v))
	}
	d := indicator.Dial{Graduation: mm("dial.graduation"), ReadsTo: indicator.DefaultReadsTo, Repeatability: mm("dial.repeatability"),
		ErrorLimit: mm("dial.error"), LeverAngle: rad("dial.lever_angle"), LeverLimit: rad("dial.lever_angle_error"),
		Falls: a.word("dial.pressed") == pressedFalls, From: mm("dial.from"), To: mm("dial.to")}
	if half := mm("dial.range") / 2; half > 0 {
		d.From, d.To = -half, half
	}
	if v, ok := a.number("dial.reads_to"); ok {
		d.ReadsTo = v
	} else if !swept(a, "") {
		d.ReadsTo = 1
	}
	if n, ok := a.number("dial.repeatability_readings"); ok {
		d.Repeats = int(n)
	}
	return d
}

// dialShows refuses a reading that the dial cannot show.
func dialShows(a *answers, _ string, g *Given) error {
	d, u := a.dial(), a.unit()
	v, _ := strconv.ParseFloat(g.toml, 64)
	if d.Check(u.MM(v)) != nil {
		return unfit("read it again", "%s, need what the dial can show: %s to %s %v", g.Typed, decimal(u.From(d.From)),
			decimal(u.From(d.To)), u)
	}
	return nil
}
