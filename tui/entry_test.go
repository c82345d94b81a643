package tui_test

import (
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// entry is something typed at the first station, in the bytes that keyboards, keypads and cables
// send.
type entry struct {
	name   string
	pieces []string  // one read each
	want   []float64 // the readings that come of it
	says   string    // what the screen says then, where it matters
}

func one(s string) []string { return []string{s} }

func TestEntry(t *testing.T) {
	for _, c := range slices.Concat(typedEntries, keypadEntries, refusedEntries) {
		t.Run(c.name, func(t *testing.T) {
			d := loaded(t, real(t, nil)).Bytes(c.pieces...).Readings(c.want...)
			if d.quit {
				t.Fatal("the screen has been left")
			}
			d.Expect(Line(c.says))
			if len(c.want) == 0 { // refused as a whole: what is typed next is a number of its own
				d.Bytes("0.25\r").Readings(0.25)
			}
		})
	}
}

var (
	typedEntries = []entry{
		{"a hand", strings.Split("-0.012\r", ""), []float64{-0.012}, "station 1, 0°: −0.012 mm"},
		{"a cable", one("-0,0123\r"), []float64{-0.0123}, ""},
		{"a cable that is fast", one("0.12\r0.13\r"), []float64{0.12, 0.13}, "station 3 of 6"},
		{"CR LF", one("0.12\r\n0.13\r\n"), []float64{0.12, 0.13}, "station 2, 60°: 0.130 mm"},
		{"CR LF in two reads", []string{"0.12\r", "\n0.13\r", "\n"}, []float64{0.12, 0.13}, "station 2, 60°: 0.130 mm"},
		{"LF", one("0.12\n0.13\n"), []float64{0.12, 0.13}, ""},
		{"plus sign", one("+0.05\r"), []float64{0.05}, ""},
		{"typographic minus", one("−0.05\r"), []float64{-0.05}, ""},
		{"no zero in front", one(",5\r.25\r"), []float64{0.5, 0.25}, ""},
		{"a blank behind", one("0.12 \r"), []float64{0.12}, ""},
		{"paste", one("\x1b[200~0.12\r\n0.13\x1b[201~"), []float64{0.12}, "station 2 of 6"},
		{"paste, then Enter", []string{"\x1b[200~ 0.12\n 0.13\x1b[201~", "\r"}, []float64{0.12, 0.13}, ""},
		{"backspace", one("0.13\x7f2\r"), []float64{0.12}, ""},
		{"ctrl+h", one("0.13\x082\r"), []float64{0.12}, ""},
		{"backspace on nothing", one("\x7f\x7f0.12\r"), []float64{0.12}, ""},
		{"Esc", []string{"0.5", "\x1b", silence, "0.12\r"}, []float64{0.12}, ""},
		{"home, end, page up, page down, insert, tab, arrows, F5",
			one("0.1\x1b[H\x1b[F\x1b[1~\x1b[4~\x1b[5~\x1b[6~\x1b[2~\t\x1b[A\x1b[B\x1b[C\x1b[D\x1b[15~2\r"), []float64{0.12}, ""},
	}

	keypadEntries = []entry{
		{"keypad without NumLock", one("0.1\x1b[E2\r"), []float64{0.12}, ""},
		{"keypad: -0,12", one("\x1bOm\x1bOp\x1bOl\x1bOq\x1bOr\x1bOM"), []float64{-0.12}, ""},
		{"keypad: +0.345", one("\x1bOk\x1bOp\x1bOn\x1bOs\x1bOt\x1bOu\x1bOM"), []float64{0.345}, ""},
		{"keypad: 0.6789", one("\x1bOp\x1bOn\x1bOv\x1bOw\x1bOx\x1bOy\x1bOM"), []float64{0.6789}, ""},
		{"keypad, and a digit behind it", one("\x1bOp\x1bOn12\r"), []float64{0.12}, ""},
		{"keypad, Enter and a reading behind it", one("0.1\x1bOM0.2\r"), []float64{0.1, 0.2}, ""},
		{"keypad, split behind O", []string{"\x1bO", "p", "\x1bO", "n", "\x1bO", "q", "\x1bO", "M"}, []float64{0.1}, ""},
		{"keypad, split behind ESC", []string{"0.5", "\x1b", "Op", "\x1b", "Oq", "\r"}, []float64{0.501}, ""},
		{"keypad, split behind ESC for long", []string{"0.5", "\x1b", silence, "Op", "0.12\r"}, []float64{0.12}, ""},
		{"arrow, split behind ESC", []string{"0.5", "\x1b", "[A", "12\r"}, []float64{0.512}, ""},
		{"arrow, split behind ESC for long", []string{"0.5", "\x1b", silence, "[A", "0.12\r"}, []float64{0.12}, ""},
		{"arrow, split behind [", []string{"0.1", "\x1b[", "A", "2\r"}, []float64{0.12}, ""},
		{"delete, split behind [", []string{"0.13", "\x1b[", "3~", "2\r"}, []float64{0.12}, ""},
		{"delete, split behind [ for long", []string{"0.1", "\x1b[", silence, "3~", "2\r"}, []float64{0.12}, ""},
		{"F5, split behind ESC", []string{"\x1b", "[15~", "0.12\r"}, []float64{0.12}, ""},
		{"an unknown key of the keypad", one("0.1\x1bOZ2\r"), []float64{0.12}, ""},
	}

	refusedEntries = []entry{
		{"too long", one("0.12345678901234567\r"), nil, `"0.123456789012345"… is too long, need at most 16 characters`},
		{"too long, piece by piece", strings.Split("00000000000000000.5\r", ""), nil, "is too long"},
		{"as long as may be", one("0.12345678901234\r"), []float64{0.12345678901234}, ""},
		{"a word", one("abc\r"), nil, `✗ "abc" is not a number`},
		{"a unit", one("0.005in\r"), nil, `✗ "0.005in" is not a number`},
		{"a unit behind a blank", one("0.005 in\r"), nil, `✗ "0.005in" is not a number`},
		{"two numbers in a paste", one("\x1b[200~0.1 0.2\r\x1b[201~"), nil, `✗ "0.1 0.2" has more than one decimal mark`},
		{"a number in a word", one("01A+0.123\r"), nil, "is not a number"},
		{"not a number", one("nan\r"), nil, `"nan" is not a number`},
		{"infinity", one("+inf\r"), nil, "is not a number"},
		{"hexadecimal", one("0x1p-3\r"), nil, "is not a number"},
		{"two marks", one("1.2.3\r"), nil, "has more than one decimal mark"},
		{"a sign alone", one("-\r"), nil, "is not a number"},
		{"beyond the dial", one("5\r"), nil, "✗ reading 5 mm is off the dial, need -0.8 to 0.8 mm; * lists off the dial"},
		{"control characters in a paste", one("\x1b[200~0.1\x07\x9b2\r\x1b[201~"), nil, "is not a number"},
		{"a byte that is none of a character", one("0.1\xff2\r"), nil, "is not a number"},
		{"shortcuts in a burst", one("qdsra/u*?tin\r"), nil, "is not a number"},
	}
)

// A message whose characters hold the ends of lines themselves, as no terminal sends today.
func TestEntryInOneMessage(t *testing.T) {
	loaded(t, real(t, nil)).Burst("-0,0123\r").Readings(-0.0123)
	loaded(t, real(t, nil)).Burst("0.12\r0.13\r").Readings(0.12, 0.13)
	loaded(t, real(t, nil)).Burst("0.12\r\n0.13\r\n0.1").Readings(0.12, 0.13).Type("4").Enter().Readings(0.12, 0.13, 0.14)
}

// The entry stands in the large letters while it is typed, and an inch job takes inches.
func TestTypingShows(t *testing.T) {
	inch := func(o *session.Opened) { o.Job.Unit, o.Job.Dial.Graduation = geom.Inch, 0.0005*25.4 }
	d := loaded(t, real(t, inch)).Type("-.00").Expect(Line("read the dial (in)"))
	before := d.Screen()
	d.Type("5")
	if d.Screen() == before {
		t.Error("a digit more, and the screen is the same")
	}
	d.Enter().Readings(-0.005 * 25.4).Expect(Line("station 1", "−0.0050 in"))
}

// Where a wind waits, Enter confirms it; the Enter behind a cable's reading does not, nor the line
// feed behind a carriage return, nor the end of a line in a paste.
func TestEnterAtAWind(t *testing.T) {
	cases := []struct {
		name   string
		pieces []string
		winds  int // confirmed
		says   string
	}{
		{"CR", []string{"\r"}, 1, "X slide wound"},
		{"LF", []string{"\n"}, 1, "X slide wound"},
		{"CR LF", []string{"\r\n"}, 1, "X slide wound"},
		{"CR LF in two reads", []string{"\r", "\n"}, 1, "X slide wound"},
		{"CR LF twice", []string{"\r\n\r\n"}, 1, "only just changed: Enter is not taken"},
		{"CR twice", []string{"\r\r"}, 1, "only just changed"},
		{"LF twice", []string{"\n\n"}, 1, "only just changed"},
		{"LF CR LF", []string{"\n\r\n"}, 1, "only just changed"},
		{"keypad", []string{"\x1bOM"}, 1, "X slide wound"},
		{"keypad, and LF", []string{"\x1bOM", "\n"}, 1, "X slide wound"},
		{"a reading", []string{"0.12\r"}, 0, "no reading is asked for, 0.12 is not taken"},
		{"a reading by hand", strings.Split("0.12\r", ""), 0, "no reading is asked for, 0.12 is not taken"},
		{"a reading with CR LF", []string{"0.12\r\n"}, 0, "0.12 is not taken"},
		{"a reading, then Enter", []string{"0.12\r", "\r"}, 1, "X slide wound"},
		{"a reading taken away, then Enter", []string{"0.12", "\x1b", "\r"}, 1, "X slide wound"},
		{"a reading without its end", []string{"0.12"}, 0, "no reading is asked for; / clears 0.12"},
		{"a word", []string{"abc\r"}, 0, "abc is not taken"},
		{"paste", []string{"\x1b[200~\r\n\r\n\x1b[201~"}, 0, "wind 1 of 3"},
		{"the dial", []string{"d"}, 0, "wind 1 of 3"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, collar(real(t, nil))), 20, session.ForWind)
			d.Expect(Line("wind 1 of 3")).Esc() // else a line feed would belong to the Enter before it
			d.Bytes(c.pieces...).Waits(session.ForWind).Expect(Line(c.says))
			if got := d.prompt().Wind.Told.Step - 1; got != c.winds {
				t.Errorf("%q: %d winds confirmed, want %d", c.pieces, got, c.winds)
			}
		})
	}
}

// A number typed on a page is a reading like any other: the page closes, nothing is lost.
func TestReadingOnAPage(t *testing.T) {
	for _, page := range []string{"help", "setup", "trials"} {
		loaded(t, real(t, nil)).Send(pages[page]).Expect(Line("Enter goes on")).
			Bytes("0.12\r").Readings(0.12).Expect(Line("station 2 of 6"))
	}
	// Enter alone closes the page and does nothing else.
	loaded(t, real(t, nil)).Type("t").Enter().Expect(Line("station 1 of 6"), Nowhere("once more")).Readings()
}

// The tip beyond the dial: one of two answers, and any other key means what it always means.
func TestOffTheDial(t *testing.T) {
	cases := []struct {
		keys string
		want session.Off
	}{{"*1", session.Pressed}, {"*2", session.Free}, {"op", session.Pressed}, {"of", session.Free}}
	for _, c := range cases {
		d := loaded(t, real(t, nil)).Type(c.keys[:1]).Expect(Line("over-pressed")).Expect(Line("not touching")).Type(c.keys[1:])
		if c.keys[0] == '*' {
			d.Enter()
		}
		s := d.state()
		if st := s.Sweep.Stations[0]; s.Sweep.N != 1 || !st.Skipped || st.Off != c.want {
			t.Errorf("%q: %d entries, the first %+v, want one off %q", c.keys, s.Sweep.N, st, c.want)
		}
	}
	loaded(t, real(t, nil)).Type("o0.12").Enter().Readings(0.12)
	loaded(t, real(t, nil)).Type("*").Burst("0.12\r").Readings(0.12)
	// The digits in front of a point were a number's: 1.25 is beyond the dial, and .25 would not be.
	loaded(t, real(t, nil)).Type("*1.25").Enter().Readings().Expect(Line("1.25"))
	loaded(t, real(t, nil)).Type("o").Esc().Type("p").Readings()
	loaded(t, real(t, nil)).Type("o").Enter().Type("f").Readings().Expect(Nowhere("once more"))
	loaded(t, real(t, nil)).Type("o").Burst("pf").Esc().Type("p").Readings()
	for _, closes := range []string{"**", "*/", "*1/*", "*1//"} {
		loaded(t, real(t, nil)).Type(closes).Readings().Expect(Line("station 1 of 6"), Nowhere("what can be done now"))
	}
	if d := loaded(t, real(t, nil)).Type("*q"); !d.quit {
		t.Error("q after * does not quit")
	}
}

// Enter alone, twice, is enough; any other key between them takes the first one back.
func TestEnough(t *testing.T) {
	at := func(n int) *driver {
		return (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), n, nothing).Esc()
	}
	d := at(4).Enter().Expect(Line("Enter once more: enough")).Waits(session.ForReading)
	if s := d.Enter().state(); s.Sweep.Closed != session.ByPerson {
		t.Fatalf("closed by %q, want %q", s.Sweep.Closed, session.ByPerson)
	}
	at(2).Enter().Enter().Expect(Line("✗ nothing waits to be confirmed"), Nowhere("enough stations")).Waits(session.ForReading)
	at(2).Type(">").Expect(Line("✗ 2 readings, need at least 3")).Waits(session.ForReading)
	if s := at(4).Bytes("\x1bOM", "\x1bOM").state(); s.Sweep.Closed != session.ByPerson {
		t.Error("Enter twice on the keypad is not enough")
	}
	if s := at(4).Bytes("\r\n").state(); s.Sweep.Closed != "" {
		t.Error("one CR LF counts twice")
	}
	if s := at(4).Bytes("\n", "\n").state(); s.Sweep.Closed != session.ByPerson {
		t.Error("LF twice is not enough")
	}
	others := [][]string{{"x"}, {"5", "\x7f"}, {"\x1b"}, {"\t"}, {" "}, {"\x1b[H"}, {"\x1b[A"}, {"\x1b[15~"}, {"\x0c"}, {"\x1bx"},
		{"\x1b[200~\x1b[201~"}, {"d"}, {"a"}, {"v"}, {"tt"}, {"t", "t"}, {"?", "?"}, {"i", "\r"}, {"*", "\x1b"}, {"n", "\x1b"}}
	for _, other := range others {
		d := at(4).Enter().Bytes(other...)
		if strings.Contains(d.Screen(), "once more") {
			t.Errorf("after %q the screen still waits for the second Enter", other)
		}
		if other[0] == "tt" { // a burst stands in the entry
			d.Press(tea.KeyBackspace, tea.KeyBackspace)
		}
		if s := d.Enter().state(); s.Sweep.Closed != "" {
			t.Errorf("Enter, %q, Enter closes the sweep", other)
		}
	}
}

// A line feed is Enter, as some terminals and cables send it: behind the list's key it takes the line that is typed, closes an empty
// list, and takes the reading that a cable sends in front of it.
func TestLineFeedBehindTheListsKey(t *testing.T) {
	loaded(t, real(t, nil)).Type("*").Burst("0.12\n").Readings(0.12)
	d := loaded(t, real(t, nil)).Type("*1").Press(tea.KeyCtrlJ)
	if s := d.state(); s.Sweep.N != 1 || s.Sweep.Stations[0].Off != session.Pressed {
		t.Errorf("line 1 of the list and a line feed: %+v, want the needle over-pressed", s.Sweep)
	}
	loaded(t, real(t, nil)).Type("*").Press(tea.KeyCtrlJ).Type("0.12").Press(tea.KeyCtrlJ).Readings(0.12)
}

// A character that does not print is none of a reading, and the rest of what a cable sends with it is no reading of its own: 0.1 and 2
// with a blank of no width between them are not 0.12.
func TestWhatDoesNotPrintMakesNoOtherNumber(t *testing.T) {
	for _, c := range []string{"\u200b", "\u202e", "\x00", "\u00ad"} {
		loaded(t, real(t, nil)).Burst("0.1" + c + "2\r").Readings().Expect(Line("✗")).Type("0.13").Enter().Readings(0.13)
	}
}
