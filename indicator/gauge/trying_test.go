package gauge

import (
	"fmt"
	"strings"
	"testing"
	"unicode"

	"example.org/trammel/geom"
)

// Nothing of what is shown drives a terminal: no control of ASCII or of the C1 set (ECMA-48, 5.2 and 5.3), no mark that turns the
// writing (Unicode Standard Annex 9).
func TestShow(t *testing.T) {
	for raw, want := range map[string]string{
		"\x02+0.118 mm\x03":     "<STX>+0.118 mm<ETX>",
		"\x1b[2J\x00\x7f\t":     "<ESC>[2J<NUL><DEL><HT>",
		"\xff0.1\xc3":           `\xff0.1\xc3`,
		"\u009b2J\u202e1\ufeff": "<U+009B>2J<U+202E>1<U+FEFF>",
		"−0,118 µm":             "−0,118 µm",
		"12345678901234":        "123456789012… 2 bytes more",
	} {
		if got := Show(raw, 12); got != want {
			t.Errorf("%q is shown as %q, want %q", raw, got, want)
		}
	}
	for r := range rune(0x10000) {
		if got := Show(string(r)+"\x80", 9); strings.ContainsFunc(got, func(r rune) bool { return !unicode.IsPrint(r) }) {
			t.Fatalf("%U is shown as %q", r, got)
		}
	}
}

func try(t *testing.T, change func(*Settings)) *Trying {
	t.Helper()
	s := Usual()
	s.Stable = 3
	change(&s)
	x, err := NewTrying(s, geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// heard are the last lines in words: what came, and what it means.
func heard(x *Trying) string {
	var out []string
	for _, h := range x.Heard(3) {
		means := x.Length(h.MM)
		if h.Why != nil {
			means = "no reading"
		}
		out = append(out, h.Raw+" is "+means)
	}
	return strings.Join(out, "; ")
}

// turn sets a knob as it would be typed.
func turn(t *testing.T, x *Trying, key, text string) error {
	t.Helper()
	for i := range Knobs {
		if Knobs[i].Key == key {
			v, err := Knobs[i].Value(x, text)
			if err == nil {
				err = x.Change(x.Set(v))
			}
			return err
		}
	}
	return fmt.Errorf("no knob %q", key)
}

// What a line would mean is told of the newest that is a reading now: noise on the wire would say that nothing fits.
func TestTryingBesideNoise(t *testing.T) {
	x := try(t, func(*Settings) {})
	x.Add([]byte("1 10.118\nERR\n\xff\n"), simTime(0))
	if p, _ := Knobs[0].Value(x, "2"); x.By(x.Set(p)) != "10.118 mm" {
		t.Errorf("by the last number it would be %s", x.By(x.Set(p)))
	}
	x.Begin(false)
	x.Add([]byte("ERR\n"), simTime(0))
	if p, _ := Knobs[0].Value(x, "2"); x.By(x.Set(p)) != "no reading" {
		t.Errorf("where no line is one it would be %s", x.By(x.Set(p)))
	}
}

// What has come is read anew by what is set, and what is set shows in the next settings.
func TestTrying(t *testing.T) {
	x := try(t, func(s *Settings) { s.Source = "serial:there" })
	if got := x.Advice(); !strings.HasPrefix(got, "nothing has come yet: switch it on") {
		t.Error(got)
	}
	if n := x.Add([]byte("1 10.0\x02\r\n1 10.1"), simTime(0)); n != 1 || x.Tail() != "1 10.1" {
		t.Errorf("%d lines, and %q behind them", n, x.Tail())
	}
	x.Add([]byte("18\n\n"), simTime(1))
	if got, want := heard(x), "1 10.0<STX> is no reading; 1 10.118 is no reading"; got != want || x.Tail() != "" {
		t.Errorf("%s, want %s", got, want)
	}
	if p, _ := Knobs[0].Value(x, "2"); x.By(x.Set(p)) != "10.118 mm" {
		t.Errorf("by the last number it would be %s", x.By(x.Set(p)))
	}
	if p, _ := Knobs[0].Value(x, "6"); x.By(x.Set(p)) != "no reading" {
		t.Errorf("behind a colon there would be %s", x.By(x.Set(p)))
	}
	noisy := try(t, func(*Settings) {})
	noisy.Add([]byte("0.118\nERR\n"), simTime(0))
	if got := noisy.By(noisy.Settings()); got != "0.118 mm" {
		t.Errorf("before the noise there was %s", got)
	}
	for _, typed := range [][2]string{{"pattern", "2"}, {"preset", "10"}, {"pressed", "fall"}, {"mode", "2"}, {"baud", "300"},
		{"frame", "2"}, {"unit", "mm"}} {
		if err := turn(t, x, typed[0], typed[1]); err != nil {
			t.Error(err)
		}
	}
	if got, want := heard(x), "1 10.0<STX> is 0 mm; 1 10.118 is -0.118 mm"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if s := x.Settings(); s.Pattern != UsualPatterns[1].Text || s.Preset != 10 || s.Pressed != Falls || s.Mode != Button || *s.Unit != 0 ||
		s.Serial != (Serial{300, 7, Even, 1}) {
		t.Errorf("%+v", s)
	}
	if err := turn(t, x, "preset", "now"); err != nil || x.Settings().Preset != 10.118 {
		t.Errorf("%v, preset %v, want what was sent last", err, x.Settings().Preset)
	}
	x.Begin(false)
	if came, read := x.Lines(); came != 0 || read != 0 || len(x.Heard(3)) != 0 {
		t.Error("what came before another stream stands")
	}
}

// A stream that stands still is steady by the settings, and one that was set anew is not until as many samples have come.
func TestTryingIsSteady(t *testing.T) {
	x := try(t, func(*Settings) {})
	for i := range 3 {
		x.Add([]byte("0.118\n"), simTime(i))
	}
	if m, err := x.Steady(simTime(2)); err != nil || abs(m.Value-0.118) > 1e-12 {
		t.Errorf("%+v, %v", m, err)
	}
	if now, ok := x.Now(); !ok || now != 0.118 {
		t.Errorf("now %v, %v", now, ok)
	}
	if err := turn(t, x, "pressed", "fall"); err != nil {
		t.Fatal(err)
	}
	if m, err := x.Steady(simTime(3)); err == nil {
		t.Errorf("%+v of samples with the other sign", m)
	}
	if came, read := x.Lines(); came != 3 || read != 3 {
		t.Errorf("%d lines, %d of them read; what came before is read anew", came, read)
	}
}

func TestKnobsRefuse(t *testing.T) {
	x := try(t, func(s *Settings) { s.Source = "fifo:there" })
	for typed, why := range map[[2]string]string{
		{"pattern", "[0-9]+"}: "has no group value",
		{"pattern", ""}:       `pattern: "", need one of 1 the first number of the line`,
		{"preset", "much"}:    `preset: "much", need a number in mm, the figure that it shows`,
		{"preset", "now"}:     "preset: \"now\", need",
		{"baud", "fast"}:      "baud: \"fast\", need a whole number from 1 to 4000000",
		{"baud", "-1"}:        "need a whole number",
		{"unit", "ft"}:        `unit: "ft", need one of 1 as a line says`,
		{"mode", "3"}:         `mode: "3", need one of 1 all the time, 2 as its button`,
	} {
		if err := turn(t, x, typed[0], typed[1]); err == nil || !strings.Contains(err.Error(), why) {
			t.Errorf("%q: %v, want %q", typed, err, why)
		}
	}
	for i := range Knobs {
		k := &Knobs[i]
		serial := k.Key == "baud" || k.Key == "frame"
		if k.Acts(x) == serial || k.Now(x) == "" || len(k.Values(x)) == 0 {
			t.Errorf("%s acts on a pipe %v, and is %q", k.Key, k.Acts(x), k.Now(x))
		}
	}
}

func TestAdvice(t *testing.T) {
	for sent, want := range map[string]string{
		"0.1":                            "a line has begun",
		strings.Repeat("\xf0x", 800):     "bytes come, and no line ends",
		"\xf0\x01x\n\xf1\xf2\n1\n":       "this is noise, most often another baud rate",
		"READY\n":                        "the last lines are no readings",
		"READY\nREADY\n1\n":              "most lines are no readings",
		"1\n2\n":                         "the lines name no unit",
		"1 mm\n1.02 mm\n":                "press the plunger a little",
		"1 mm\n2 mm\n":                   "it moves: where the figure fell",
		strings.Repeat("7", 2000) + "\n": "the last lines are no readings",
	} {
		x := try(t, func(s *Settings) { s.Source = "serial:there" })
		x.Add([]byte(sent), simTime(0))
		if got := x.Advice(); !strings.HasPrefix(got, want) {
			t.Errorf("%.20q: %s, want %s", sent, got, want)
		}
	}
	x := try(t, func(s *Settings) { s.Mode = Button })
	if got := x.Advice(); got != "nothing has come yet: press its button" {
		t.Error(got)
	}
	x.Add([]byte("\x01\xff\n"), simTime(0))
	if got := x.Advice(); !strings.HasPrefix(got, "this is noise, and no text") {
		t.Error(got)
	}
}
