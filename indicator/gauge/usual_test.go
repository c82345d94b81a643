package gauge

import (
	"strings"
	"testing"
)

// Each usual pattern reads its own example, and is a pattern a file may hold.
func TestUsualPatternsReadTheirExamples(t *testing.T) {
	for i, u := range UsualPatterns {
		p, err := ParsePattern(u.Text)
		if err != nil {
			t.Fatalf("%s: %v", u.Words, err)
		}
		want := -0.118
		if i == 0 {
			want = 0.118
		}
		if v, err := p.Read(Line{u.Example, true}, 0, false); err != nil || v != want {
			t.Errorf("%s: %q is %v, %v, want %v", u.Words, u.Example, v, err, want)
		}
		if strings.ContainsAny(u.Text, "'") || PatternWords(u.Text) != u.Words {
			t.Errorf("%s: %s", u.Words, u.Text)
		}
	}
}

// What a pattern reads of a line, and what it must not take for a figure: above all no sign is lost.
func TestUsualPatterns(t *testing.T) {
	tests := []struct {
		words string
		line  string
		mm    float64
		no    bool
	}{
		{"the last number of the line", "1 2 -0.118", -0.118, false},
		{"the last number of the line", "1 - 0,118 mm", -0.118, false},
		{"the last number of the line", "A=1;B=−0.118 mm;", -0.118, false},
		{"the last number of the line", "12:01 0.01 in", 0.254, false},
		{"the last number of the line", "-0.118", -0.118, false},
		{"the last number of the line", "1 0.118-", 0, true},
		{"the last number of the line", "1-0.118", 0, true}, // a sign, or a dash
		{"the last number of the line", "1- 0.118", 0, true},
		{"the last number of the line", "1.2.3", 0, true},
		{"the last number of the line", "A 1/8 in", 0, true},
		{"the last number of the line", "A - -0.118", 0, true},
		{"the number behind a = or a colon", "X=0.118-", 0, true},
		{"the number behind a = or a colon", "X=1 234", 0, true},
		{"a number with its sign behind it", "0.118 mm-", -0.118, false},
		{"a number with its sign behind it", "0.118--", 0, true},
		{"a number alone, and nothing else", "\x02 + 0.118\x03", 0.118, false},
		{"a number alone, and nothing else", "0.118 mm", 0, true},
		{"a number with its unit", "A1 0.118 mm", 0.118, false},
		{"a number with its unit", "12 V 0.01 Inches", 0.254, false},
		{"the last number of the line", "A1 0.01 IN", 0.254, false},
		{"the number behind a = or a colon", "X=0.01 furlong", 0, true},
		{"a number with its unit", "0.118", 0, true},
		{"a number with its unit", "0.118 mmm", 0, true},
		{"a number with its sign behind it", "0.118 -", -0.118, false},
		{"a number with its sign behind it", "-0.118", 0, true},
		{"a number with its sign behind it", "0,118 +", 0.118, false},
		{"the number behind a = or a colon", "1 2: 0.118 mm", 0.118, false},
		{"the number behind a = or a colon", "0.118", 0, true},
		{"a number with a comma as decimal point", "1.0 5 −0,118 mm", -0.118, false},
		{"a number with a comma as decimal point", "5- 0,118", 0, true},
		{"a number with a comma as decimal point", "1.234,5", 0, true},
		{"a number with a comma as decimal point", "0.118", 0, true},
		{"the second of several columns", "01;-0,118;5", -0.118, false},
		{"the second of several columns", "A\t0.118\tmm", 0.118, false},
		{"the second of several columns", "0.118", 0, true},
	}
	for _, tt := range tests {
		text := ""
		for _, u := range UsualPatterns {
			if u.Words == tt.words {
				text = u.Text
			}
		}
		p, err := ParsePattern(text)
		if err != nil || text == "" {
			t.Fatal(tt.words, err)
		}
		if v, err := p.Read(Line{tt.line, true}, 0, false); (err != nil) != tt.no || err == nil && abs(v-tt.mm) > 1e-12 {
			t.Errorf("%s: %q is %v, %v, want %v", tt.words, tt.line, v, err, tt.mm)
		}
	}
}
