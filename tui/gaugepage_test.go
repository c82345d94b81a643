package tui_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/tui"
)

// gaugeSetUp is the page that sets a cable indicator up, with lines that answer what a test says.
type gaugeSetUp struct {
	*ticking
	try    *gauge.Trying
	sends  map[string][]tui.GaugeNews // by source and baud rate; what comes once it is open
	opened []string
	writes bool // that keeping it changes anything
}

// feedOf is a line that sends some news, and nothing more.
type feedOf struct{ news []tui.GaugeNews }

func (f *feedOf) Next() (out []tui.GaugeNews, more bool) {
	out, f.news = f.news, nil
	return out, out != nil
}

func (x *gaugeSetUp) open(s gauge.Settings) (tui.GaugeFeed, bool, error) {
	name := fmt.Sprintf("%s %d", s.Source, s.Serial.Baud)
	x.opened = append(x.opened, name)
	news, ok := x.sends[name]
	if !ok {
		return nil, false, errors.New("serial line: no such file; plug it in")
	}
	return &feedOf{slices.Clone(news)}, false, nil
}

// sent is a text that comes in so many equal lines, a fiftieth of a second apart.
func (x *gaugeSetUp) sent(text string, times int) (out []tui.GaugeNews) {
	for i := range times {
		out = append(out, tui.GaugeNews{Bytes: []byte(text), At: x.now.Add(time.Duration(i-times) * 20 * time.Millisecond)})
	}
	return out
}

// settingUp opens the page at a line that sends noise at one baud rate and figures at another.
func settingUp(t testing.TB, plain bool, colour termenv.Profile) *gaugeSetUp {
	t.Helper()
	x := &gaugeSetUp{ticking: &ticking{driver: &driver{t: t}, now: begin}, writes: true}
	x.sends = map[string][]tui.GaugeNews{
		"serial:/dev/ttyUSB0 9600": x.sent("\xf0\x02\x80x\xff\r\n", 3),
		"serial:/dev/ttyUSB0 4800": slices.Concat(x.sent("READY\x1b[2J\r\n", 1), x.sent("A1 \t-0.018 mm\x03\r\n", 1),
			x.sent("A1 \t-0.118 mm\x03\r\n", 11), x.sent("A1", 1)),
		"serial:/dev/ttyUSB1 9600": {{Lost: "nothing is plugged in there any more"}},
	}
	s := gauge.Usual()
	s.Source = "serial:/dev/ttyUSB0"
	var err error
	if x.try, err = gauge.NewTrying(s, geom.Millimetre); err != nil {
		t.Fatal(err)
	}
	m := tui.NewGaugeModel(tui.GaugeConfig{Try: x.try, Open: x.open, Now: func() time.Time { return x.now },
		Ports: func() []string { return []string{"/dev/ttyUSB0", "/dev/ttyUSB1", "/dev/ttyUSB2"} },
		Changes: func(s gauge.Settings) (string, []string, error) {
			if !x.writes {
				return "", nil, nil
			}
			return "write it", []string{"into mill.toml:", "gauge.source = " + s.Source + " is new"}, nil
		}}, colours(colour, plain))
	x.model = m
	x.lay(m.Init())
	x.Size(80, 24)
	x.now = x.now.Add(time.Minute)
	return x
}

// types presses keys with time enough in between.
func (x *gaugeSetUp) types(text string) *gaugeSetUp {
	x.t.Helper()
	for _, r := range text {
		key := char(r)
		if r == '\n' {
			key = enterKey
		}
		x.after(time.Second, key)
	}
	return x
}

// atFigures is the page at the baud rate where figures come.
func (x *gaugeSetUp) atFigures() *gaugeSetUp {
	x.t.Helper()
	return x.types("*6\n2\n")
}

// ended holds the page to have ended, and what is set to be kept or not.
func (x *gaugeSetUp) ended(kept bool) {
	x.t.Helper()
	if got := x.model.(tui.GaugeModel).Kept; got != kept || !x.quit {
		x.t.Errorf("kept %v, ended %v, want kept %v\n%s", got, x.quit, kept, x.Screen())
	}
}

// The page at the sizes that its goldens are looked at in.
func TestGaugeOnTheScreen(t *testing.T) {
	golden(t, "80x24/gauge-noise", settingUp(t, false, termenv.Ascii).Screen())
	golden(t, "80x24/gauge", settingUp(t, false, termenv.Ascii).atFigures().Screen())
	golden(t, "80x24/gauge.ansi256", settingUp(t, false, termenv.ANSI256).atFigures().model.View())
	golden(t, "80x24/gauge.plain", settingUp(t, true, termenv.Ascii).atFigures().types("1\n2\n").Screen())
	golden(t, "80x24/gauge-ways", settingUp(t, false, termenv.Ascii).atFigures().types("*").Screen())
	golden(t, "80x24/gauge-patterns", settingUp(t, false, termenv.Ascii).atFigures().types("*1\n").Screen())
	golden(t, "80x24/gauge-keep", settingUp(t, false, termenv.Ascii).atFigures().types("1\n2\n\n").Screen())
	golden(t, "40x10/gauge", settingUp(t, false, termenv.Ascii).atFigures().types("1\n2\n").Size(40, 10).Screen())
	golden(t, "120x40/gauge", settingUp(t, false, termenv.Ascii).atFigures().types("1\n2\n").Size(120, 40).Screen())
}

// By a keypad alone, from noise to a figure with the right sign that is kept: another baud rate, where the figure stands, what it
// does when pressed.
func TestGaugeIsSetUpByAKeypad(t *testing.T) {
	x := settingUp(t, false, termenv.Ascii)
	x.Expect(Line("this is noise, most often another baud rate"), Line(`\xf0<STX>\x80x\xff`, "no text"))
	x.atFigures().Expect(Line("A1 <HT>-0.118 mm<ETX>", "1 mm"))
	x.Size(80, 40).Expect(Line("READY<ESC>[2J", "no text")).Size(80, 24)
	x.types("1\n2\n").Expect(Line("A1 <HT>-0.118 mm<ETX>", "−0.118 mm"))
	x.types("*2\n3\n").Expect(Line("A1 <HT>-0.118 mm<ETX>", "0.118 mm"))
	x.types("*\n").Expect(Line("A1 <HT>-0.118 mm<ETX>")) // closes the list
	x.types("\n").Expect(Line("gauge.source = serial:/dev/ttyUSB0 is new"), Line("Enter: write it"))
	x.types("/").Expect(Line("A1 <HT>-0.118 mm<ETX>"))
	x.types("\n\n").ended(true)
	if s := x.try.Settings(); s.Serial.Baud != 4800 || s.Pattern != gauge.UsualPatterns[1].Text || s.Pressed != gauge.Falls {
		t.Errorf("set to %+v", s)
	}
}

// A line that is not there says why and what to do, is tried again at Enter, and another can be chosen from those that are there.
func TestGaugeLineThatIsNotThere(t *testing.T) {
	x := settingUp(t, false, termenv.Ascii)
	x.types("*8\n3\n").Expect(Line("serial line: no such file; plug it in"))
	x.sends["serial:/dev/ttyUSB2 9600"] = x.sent("1.5\n", 1)
	x.types("\n").Expect(Line("1.5", "1.5 mm"))
	x.types("*8\n2\n").Expect(Line("nothing is plugged in there any more"))
	want := []string{"serial:/dev/ttyUSB0 9600", "serial:/dev/ttyUSB2 9600", "serial:/dev/ttyUSB2 9600", "serial:/dev/ttyUSB1 9600"}
	if !slices.Equal(x.opened, want) {
		t.Errorf("opened %q, want %q", x.opened, want)
	}
}

// What was set and is not kept is asked about once more; where nothing was, the page just ends, and there is nothing to keep.
func TestGaugeIsLeft(t *testing.T) {
	settingUp(t, false, termenv.Ascii).types("/").ended(false)
	x := settingUp(t, false, termenv.Ascii).types("3\n2\n/")
	x.Expect(Line("Enter: leave, and nothing is written"))
	x.types("*").Expect(Line("noise"))
	x.types("/\n").ended(false)
	x = settingUp(t, false, termenv.Ascii)
	x.writes = false // of a line that is dead, too: there is nothing to keep
	x.types("\n").Expect(Line("✗ the machine's file says so already"))
	x.Send(tea.KeyMsg{Type: tea.KeyUp}).Expect(Line("✗ Num Lock seems to be off"))
	x.types("x").Expect(Line("✗ x does nothing here; * lists what can be changed"))
	x.types("*99\n").Expect(Line("there is no line 99"))
}

// An Enter that comes before the page can have been read neither keeps nor writes.
func TestGaugeBounces(t *testing.T) {
	x := settingUp(t, false, termenv.Ascii).atFigures()
	x.types("1\n2\n\n")
	x.after(50*time.Millisecond, enterKey)
	if x.quit {
		t.Fatal("an Enter that bounced has written")
	}
	x.Expect(Line("only just changed: Enter is not taken"))
	x.types("\n").ended(true)
}

// What is kept was seen to move, and its unit is known: a figure that stands is kept only by the line of the list that says so, and one
// whose unit nobody says is not.
func TestGaugeIsKeptOnceItMoves(t *testing.T) {
	at := func(sends ...tui.GaugeNews) *gaugeSetUp {
		x := settingUp(t, false, termenv.Ascii)
		x.sends["serial:/dev/ttyUSB0 4800"] = sends
		return x.atFigures()
	}
	still := (&gaugeSetUp{ticking: &ticking{now: begin}}).sent("0.118 mm\n", 12)
	bare := (&gaugeSetUp{ticking: &ticking{now: begin}}).sent("0.118\n", 12)
	moves := (&gaugeSetUp{ticking: &ticking{now: begin}}).sent("0.218 mm\n", 1)
	x := at(still...)
	x.types("\n").Expect(Line("✗ its figure was seen to move by 0 mm, need more than 0.03 mm"))
	x.types("\n\n\n")
	if x.quit {
		t.Fatal("Enter alone has kept a figure that was never seen to move")
	}
	x.types("*").Expect(Line("10  keep it, though its figure was not"))
	x.types("10\n").Expect(Line("Enter: write it"))
	x.types("\n").ended(true)
	at(slices.Concat(still, moves)...).types("\n\n").ended(true)
	x = at(bare...)
	x.types("\n").Expect(Line(`✗ "0.118" names no unit, need the unit of its figures stated: mm or in`))
	x.types("*10\n").Expect(Line("names no unit"))
	x.types("3\n2\n*10\n\n").ended(true)
}

// Whatever the window, nothing is lost past its edges.
func TestGaugeEverySize(t *testing.T) {
	for _, keys := range []string{"", "*6\n2\n", "*", "*6\n2\n*1\n", "\n", "*8\n3\n"} {
		x := settingUp(t, keys == "*", termenv.Ascii)
		x.types(keys)
		for w := 1; w <= 200; w += 23 {
			for h := 1; h <= 50; h += 7 {
				x.Size(w, h).Fits(w, h)
			}
		}
		if x.Size(0, 0).Screen() != "trammel" {
			t.Error("a window of no size")
		}
	}
	if strings.Contains(settingUp(t, true, termenv.Ascii).Size(80, 24).Screen(), "▸") {
		t.Error("a sign that is not ASCII in plain")
	}
}
