package gauge

import (
	"errors"
	"strings"
	"testing"

	"example.org/trammel/geom"
)

func TestFirstNumber(t *testing.T) {
	p, err := ParsePattern("")
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		line string
		unit geom.Unit
		says bool // and it is stated
		mm   float64
		no   string // part of why it is no reading
	}{
		{line: "0.118", mm: 0.118},
		{line: "+0.118", mm: 0.118},
		{line: "-0,118", mm: -0.118},
		{line: "−.118", mm: -0.118},
		{line: "  - 0.118 mm ", mm: -0.118},
		{line: "\x02+000.118\x03", mm: 0.118},
		{line: "\x00A1\t0.118", mm: 1}, // the first number
		{line: "0.118,", mm: 0.118},
		{line: "0.0100", unit: geom.Inch, mm: 0.254}, // 1 in is 25.4 mm by definition
		{line: `.01"`, unit: geom.Inch, mm: 0.254},
		{line: "0.01 INCH", unit: geom.Inch, says: true, mm: 0.254},
		{line: "1.18e-1 mm", mm: 0.118},
		{line: "", no: "does not fit"},
		{line: "error", no: "does not fit"},
		{line: "1,234.5", no: "more than one decimal mark"},
		{line: "0.1.18", no: "more than one decimal mark"},
		{line: "0.1\x0018", no: "no text"},
		{line: "0.1\xff18", no: "no text"},
		{line: "\xff18", no: "no text"},
		{line: "0.01 in", mm: 0.254}, // the line says better than the job
		{line: "118 µm", mm: 0.118},
		{line: "118 um", unit: geom.Inch, mm: 0.118},
		{line: "10 mil", mm: 0.254}, // a thousandth of an inch
		{line: "0.0118 cm", mm: 0.118},
		{line: "0.118 mm", unit: geom.Inch, mm: 0.118},
		{line: `0.01"`, unit: geom.Inch, says: true, mm: 0.254},
		{line: "0.118 in", says: true, no: `"in", need mm`},
		{line: "118 µm", says: true, no: `"µm", need mm`},
		{line: "0.118 mm", unit: geom.Inch, says: true, no: `"mm", need in`},
		// 1 in is 25.4 mm by definition, however it is written.
		{line: "0.01 IN", mm: 0.254}, {line: "0.01Inch", mm: 0.254}, {line: "0.01 INCH", mm: 0.254}, {line: "0.01 inches", mm: 0.254},
		{line: "0.01 ins", mm: 0.254}, {line: "0.01''", mm: 0.254}, {line: "0.01 (in)", mm: 0.254}, {line: "0.01_in", mm: 0.254},
		{line: "0.01,in", mm: 0.254}, {line: "0.01;in", mm: 0.254}, {line: "10 MIL", mm: 0.254}, {line: "10 mils", mm: 0.254},
		{line: "118 UM", mm: 0.118}, {line: "118 microns", mm: 0.118}, {line: "10000 µin", mm: 0.254}, {line: "0.118 MM", mm: 0.118},
		{line: "0.01 IN", says: true, no: `"IN", need mm`},
		{line: "0.1 m", no: `has the unit "m", need one of mm, in`},
		{line: "0.118 mmm", no: `has the unit "mmm"`},
		{line: "0.118 CH1", no: "state a pattern"},
		{line: "0.118-", no: `has "-" at the figure 0.118`},
		{line: "0.118 -", no: `has "-"`}, {line: "0.118 mm-", no: `has "-"`}, {line: "0.118−", no: `has "−"`},
		{line: "0.1-0.2", no: `has "-"`}, {line: "--0.5", no: `has "-"`}, {line: "+-0.5", no: `has "+"`}, {line: "- - 0.1", no: `has "-"`},
		{line: "0x1F", no: `half of one`}, {line: "0xF", no: `has the unit "xF"`}, {line: "0. 118", no: `has "."`}, {line: "1 234", no: `has "2"`},
		{line: "1/8 in", no: `has "/"`}, {line: ".5.", no: `has "."`}, {line: "5,", no: `has ","`}, {line: "0.5E", no: `unit "E"`},
		{line: "0.1e-400", no: "too small"}, {line: "0e-400", mm: 0}, {line: "/8 mm", no: `has "/"`},
		{line: "\x1b[0m0.118", no: "no text"}, {line: "0.118\x1b", no: "no text"},
		{line: "1e999", no: "too large"},
	}
	for _, tt := range tests {
		v, err := p.Read(Line{tt.line, true}, tt.unit, tt.says)
		switch {
		case tt.no == "" && (err != nil || abs(v-tt.mm) > 1e-12):
			t.Errorf("%q: %v, %v, want %v mm", tt.line, v, err, tt.mm)
		case tt.no != "" && (err == nil || !strings.Contains(err.Error(), tt.no)):
			t.Errorf("%q: %v, %v, want %q", tt.line, v, err, tt.no)
		}
	}
	if _, err := p.Read(Line{}, 0, false); err == nil {
		t.Error("a line that was passed over is a reading")
	}
}

func abs(v float64) float64 { return max(v, -v) }

func TestPatternOfGroups(t *testing.T) {
	p, err := ParsePattern(`^ch2 (?P<sign>.)(?P<value>\S+)(?P<unit>\w*)$`)
	if err != nil {
		t.Fatal(err)
	}
	for line, want := range map[string]float64{"ch2 -0.5": -0.5, "ch2 +0.5": 0.5, "ch2  0.5": 0.5} {
		if v, err := p.Read(Line{line, true}, 0, false); err != nil || v != want {
			t.Errorf("%q: %v, %v, want %v", line, v, err, want)
		}
	}
	for line, why := range map[string]string{
		"ch1 -0.5": "does not fit", "ch2 --0.5": "two signs", "ch2 N0.5": "need + or -", "ch2 +hot": "no figure",
	} {
		if _, err := p.Read(Line{line, true}, 0, false); err == nil || !strings.Contains(err.Error(), why) {
			t.Errorf("%q: %v, want %q", line, err, why)
		}
	}
}

// A value that a stated pattern cuts out of a longer figure is no reading; what the pattern takes in beside it is meant so.
func TestPieceOfAFigure(t *testing.T) {
	for _, tt := range []struct {
		pattern, line string
		mm            float64
		piece         string
	}{
		{`(?P<value>[0-9]+)`, "0.118", 0, `piece of "0.118"`},
		{`(?P<value>[0-9]+)$`, "-0.118", 0, `piece of "-0.118"`},
		{`(?P<value>[0-9]+)`, "0,118", 0, `piece of "0,118"`},
		{`(?P<value>[0-9.]+)`, "-0.118", 0, `piece of "-0.118"`},
		{`(?P<value>[0-9.]+)`, "0.118-", 0, `piece of "0.118-"`},
		{`(?P<value>[0-9.]+)`, "1.18e-1", 0, `piece of "1.18e-1"`},
		{`(?P<value>[0-9.]{3})`, "0.118", 0, `piece of "0.118"`},
		{`(?P<value>[0-9]+)`, "1/8", 0, `piece of "1/8"`},
		{`(?P<value>[0-9]+)`, "A 118 mm", 118, ""},
		{`(?P<value>[0-9]+\.[0-9]+)`, "0.118,9.5", 0.118, ""},
		{`^\d\d(?P<value>[0-9.]+)`, "010.118", 0.118, ""},
		{`A-(?P<value>[0-9.]+)`, "A-0.118", 0.118, ""},
		{`,(?P<value>[^,]+),`, "01,118,9", 118, ""},
	} {
		p, err := ParsePattern(tt.pattern)
		if err != nil {
			t.Fatal(err)
		}
		v, err := p.Read(Line{tt.line, true}, 0, false)
		if v != tt.mm || (err != nil) != (tt.piece != "") || err != nil && !strings.Contains(err.Error(), tt.piece) {
			t.Errorf("%s of %q: %v, %v, want %v, %q", tt.pattern, tt.line, v, err, tt.mm, tt.piece)
		}
	}
}

// A unit that a pattern takes, and that is none of length, is no reading: where one is stated it contradicts that.
func TestUnknownUnit(t *testing.T) {
	p, err := ParsePattern(`(?P<value>[0-9.]+)(?P<unit>[a-z]+)`)
	if err != nil {
		t.Fatal(err)
	}
	for stated, why := range map[bool]string{false: `has the unit "kg", need one of mm, in, um, cm, mil`, true: `"kg", need mm`} {
		if _, err := p.Read(Line{"0.5kg", true}, 0, stated); err == nil || !strings.Contains(err.Error(), why) {
			t.Errorf("stated %v: %v, want %q", stated, err, why)
		}
	}
}

func TestPatternsRefused(t *testing.T) {
	for text, why := range map[string]string{
		`(?P<value>`:                      "cannot be read: missing closing )",
		`[0-9]+`:                          "has no group value",
		`(?P<val>[0-9]+)`:                 "has no group value",
		`(?P<value>a)|(?P<value>b)`:       "has the group value twice",
		strings.Repeat("x", maxPattern+1): "at most 500",
	} {
		_, err := ParsePattern(text)
		var no *PatternError
		if !errors.As(err, &no) || !strings.Contains(err.Error(), why) || !strings.Contains(err.Error(), "(?P<value>…)") {
			t.Errorf("%.40q: %v, want %q and what is needed", text, err, why)
		}
	}
}
