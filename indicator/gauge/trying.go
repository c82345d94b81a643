package gauge

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"time"

	"example.org/trammel/geom"
)

// Trying is the setting up of an indicator: what has come from it, and what that means by the settings that are tried. It is no
// value: who has it alone may change it.
type Trying struct {
	set   Settings
	unit  geom.Unit // of figures of which neither their line nor the settings say one
	lines Splitter
	last  []Line // the newest behind
	came  int    // lines
	tail  []byte // the newest bytes behind the last line's end

	pattern Pattern
	steady  Steady
	seen    seen
	read    int // lines that are readings, of those that came since the settings were changed and the last before
	unread  int
}

// keptLines is how many lines are kept, and keptTail how many bytes of one whose end has not come.
const (
	keptLines = 40
	keptTail  = 60
)

// NewTrying begins with what is stated; u is the unit of figures of which neither their line nor the settings say one. The error is a
// *[PatternError].
func NewTrying(s Settings, u geom.Unit) (*Trying, error) {
	t := &Trying{unit: u}
	return t, t.Change(s)
}

// Settings are those that are tried now.
func (t *Trying) Settings() Settings { return t.set }

// Unit is that of figures whose line names none.
func (t *Trying) Unit() geom.Unit {
	if t.set.Unit != nil {
		return *t.set.Unit
	}
	return t.unit
}

// shown is the unit that lengths of the settings are shown in, where nothing else says one.
func (s *Settings) shown() geom.Unit {
	if s.Unit != nil {
		return *s.Unit
	}
	return geom.Millimetre
}

// Length is a length in the unit of its figures, with it.
func (t *Trying) Length(mm float64) string { return lengthWords(mm, t.Unit()) }

func lengthWords(mm float64, u geom.Unit) string {
	const places = 1e6 // beyond any indicator's
	v := math.Round(u.From(mm)*places) / places
	return fmt.Sprintf("%s %v", strconv.FormatFloat(v, 'f', -1, 64), u)
}

// Change goes on with other settings. The error is a *[PatternError], and nothing is changed then.
func (t *Trying) Change(s Settings) error {
	p, err := ParsePattern(s.Pattern)
	if err != nil {
		return err
	}
	line := s.Line() == t.set.Line()
	if !s.sameFigure(&t.set) {
		t.seen = seen{}
	}
	t.set, t.pattern, t.steady, t.read, t.unread = s, p, NewSteady(s.Stable, s.Within), 0, 0
	for _, l := range t.last {
		t.count(l)
	}
	if !line { // what came is another's
		t.seen = seen{}
	}
	return nil
}

// Begin begins with another stream, which may be joined midway. What came before it is forgotten: at another baud rate it was
// something else.
func (t *Trying) Begin(midway bool) {
	t.lines, t.last, t.came, t.tail = Splitter{Midway: midway && t.set.Mode == Stream}, nil, 0, nil
	t.read, t.unread = 0, 0
	t.steady.Forget()
}

// Add takes in bytes that came at a time, and returns how many lines they ended.
func (t *Trying) Add(b []byte, at time.Time) int {
	n := t.came
	t.lines.Add(b, func(l Line) {
		t.came++
		t.last = append(t.last, l)
		if v, ok := t.count(l); ok {
			t.steady.Add(v, at)
		}
	})
	t.last = append([]Line(nil), t.last[max(0, len(t.last)-keptLines):]...)
	if t.tail = t.lines.part; t.lines.over {
		t.tail = b
	}
	t.tail = append([]byte(nil), t.tail[max(0, len(t.tail)-keptTail):]...)
	return t.came - n
}

// count counts a line, and returns its reading, where it is one.
func (t *Trying) count(l Line) (mm float64, ok bool) {
	v, err := t.pattern.Read(l, t.Unit(), t.set.Unit != nil)
	if err != nil {
		t.unread++
		return 0, false
	}
	t.seen.see(l, v, &t.pattern)
	t.read++
	return t.set.reading(v), true
}

// reading is a line's, in the dial's sign.
func (t *Trying) reading(l Line) (float64, error) {
	v, err := t.pattern.Read(l, t.Unit(), t.set.Unit != nil)
	if err != nil {
		return 0, err
	}
	return t.set.reading(v), nil
}

// Heard is one line that came, as it may be shown, and what it means: a reading in the dial's sign, millimetres, or why it is none.
type Heard struct {
	Raw string
	MM  float64
	Why error
}

// Because is why it is no reading, beside the line itself.
func (h *Heard) Because() string {
	if e := (*LineError)(nil); errors.As(h.Why, &e) {
		return e.Why
	}
	return h.Why.Error()
}

// Heard are the last lines, at most so many, the newest behind.
func (t *Trying) Heard(most int) (out []Heard) {
	for _, l := range t.last[max(0, len(t.last)-most):] {
		h := Heard{Raw: Show(l.Text, MaxLine)}
		if h.MM, h.Why = t.reading(l); !l.Whole {
			h.Raw = "(a line that is too long)"
		}
		out = append(out, h)
	}
	return out
}

// Tail is what has come behind the last line's end, as it may be shown; empty for nothing.
func (t *Trying) Tail() string { return Show(string(t.tail), keptTail) }

// Lines are how many lines came, and how many of the newer ones are readings by the settings.
func (t *Trying) Lines() (came, read int) { return t.came, t.read }

// Now is the newest reading, in the dial's sign, millimetres; ok is false where none of the newest lines is one.
func (t *Trying) Now() (mm float64, ok bool) {
	for i := len(t.last) - 1; i >= max(0, len(t.last)-byLines); i-- {
		if mm, err := t.reading(t.last[i]); err == nil {
			return mm, true
		}
	}
	return 0, false
}

// Steady is what it stands still at; the error is a *[MovingError].
func (t *Trying) Steady(now time.Time) (Mean, error) { return t.steady.Mean(now) }

// sent is the newest figure as it was sent, millimetres.
func (t *Trying) sent() (mm float64, ok bool) {
	for i := len(t.last) - 1; i >= 0; i-- {
		if v, err := t.pattern.Read(t.last[i], t.Unit(), t.set.Unit != nil); err == nil {
			return v, true
		}
	}
	return 0, false
}

// byLines is how many of the newest lines are looked at for one that is a reading: noise may be among them.
const byLines = 10

// By is what the newest line that is a reading by other settings would mean; empty where no line has come.
func (t *Trying) By(s Settings) string {
	if len(t.last) == 0 {
		return ""
	}
	other, err := NewTrying(s, t.unit)
	if err != nil {
		return "no pattern"
	}
	other.last = t.last
	if v, ok := other.Now(); ok {
		return other.Length(v)
	}
	return "no reading"
}

// mostlyNoise: of ten lines so many that are no text make it noise.
const mostlyNoise = 5

// Advice says what to do next, by what has come.
func (t *Trying) Advice() string {
	noise := 0
	for _, l := range t.last {
		if _, text := plain(l.Text); l.Whole && !text {
			noise++
		}
	}
	isNoise, nothing := t.came > 0 && noise*10 >= len(t.last)*mostlyNoise, t.came == 0 && len(t.tail) == 0
	kind, _, _ := ParseSource(t.set.Source)
	switch {
	case nothing && t.set.Mode == Button:
		return "nothing has come yet: press its button"
	case nothing:
		return "nothing has come yet: switch it on, see to plug and cable; press its button, if it has one"
	case isNoise && kind == SerialLine:
		return "this is noise, most often another baud rate, or other bits and parity"
	case isNoise:
		return "this is noise, and no text: see what sends it"
	case t.came == 0 && len(t.tail) == keptTail:
		return "bytes come, and no line ends: it is no indicator that sends lines, or its baud rate is another"
	case t.came == 0:
		return "a line has begun: its end is still to come"
	case t.read == 0:
		return "the last lines are no readings: try where the figure stands"
	case t.unread > t.read:
		return "most lines are no readings: try where the figure stands"
	}
	switch err, unmoved := t.Unready(), (*UnmovedError)(nil); {
	case err == nil:
		return "it moves: where the figure fell as the plunger was pressed, say so (pressed); then keep it"
	case errors.As(err, &unmoved):
		return "press the plunger a little: the figure must grow; where it falls, say so (pressed)"
	}
	return "the lines name no unit: say which it is (unit)"
}
