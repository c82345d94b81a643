package gauge

import (
	"fmt"
	"regexp"
	"strings"

	"example.org/trammel/geom"
)

// maxPattern bounds a pattern, characters.
const maxPattern = 500

// Pattern is what a line has to look like, to be a reading.
type Pattern struct {
	form              *regexp.Regexp
	value, sign, unit int // numbers of the groups; -1 for one that is not there
	usual             bool
}

// PatternError says why a pattern is none.
type PatternError struct{ Pattern, Why string }

func (e *PatternError) Error() string {
	return fmt.Sprintf("%q %s, need a regular expression with the group (?P<value>…) around the figure, and (?P<sign>…) and (?P<unit>…) "+
		"where those stand apart", e.Pattern, e.Why)
}

// ParsePattern reads a regular expression with the named groups value and, where they stand apart from the figure, sign and
// unit; an empty text is [FirstNumber]. The error is a *[PatternError].
func ParsePattern(text string) (Pattern, error) {
	if text == "" {
		text = FirstNumber
	}
	if n := len(text); n > maxPattern {
		return Pattern{}, &PatternError{text[:40] + "…", fmt.Sprintf("has %d bytes, at most %d may be", n, maxPattern)}
	}
	form, err := regexp.Compile(text)
	if err != nil {
		return Pattern{}, &PatternError{text, "cannot be read: " + strings.TrimPrefix(err.Error(), "error parsing regexp: ")}
	}
	p := Pattern{form: form, value: form.SubexpIndex("value"), sign: form.SubexpIndex("sign"), unit: form.SubexpIndex("unit")}
	p.usual = usual(text)
	if p.value < 0 {
		return Pattern{}, &PatternError{text, "has no group value"}
	}
	named := map[string]bool{}
	for _, name := range form.SubexpNames() {
		if name != "" && named[name] {
			return Pattern{}, &PatternError{text, "has the group " + name + " twice"}
		}
		named[name] = true
	}
	return p, nil
}

// UnitError: a line names another unit than its figures are stated to be in.
type UnitError struct {
	Named string
	Need  geom.Unit
}

func (e *UnitError) Error() string { return fmt.Sprintf("it sends %q, need %v", e.Named, e.Need) }

// Hint says what to do.
func (e *UnitError) Hint() string {
	return "switch the indicator over, or state what it sends as unit under [gauge] in the machine file"
}

// LineError: a line is no reading.
type LineError struct {
	Line string
	Why  string
}

// shownLine is how much of a line is shown, characters.
const shownLine = 60

func (e *LineError) Error() string {
	line := []rune(e.Line)
	if len(line) > shownLine {
		line = append(line[:shownLine], '…')
	}
	return fmt.Sprintf("%q %s", string(line), e.Why)
}

// Hint says what to do.
func (*LineError) Hint() string {
	return "see baud, bits, parity and stop, and the pattern, under [gauge] in the machine file"
}

// Read makes a value of a line, millimetres; u is the unit of its figures where the line itself names none, or where that is stated:
// then the line may name no other. The error is a *[LineError], or a *[UnitError].
func (p *Pattern) Read(l Line, u geom.Unit, stated bool) (float64, error) {
	if !l.Whole {
		return 0, &LineError{"", "longer than a line may be"}
	}
	text, ok := plain(l.Text)
	if !ok {
		return 0, &LineError{l.Text, "has bytes in it that are no text"}
	}
	at := p.form.FindStringSubmatchIndex(text)
	if at == nil {
		return 0, &LineError{text, "does not fit the pattern"}
	}
	group := func(i int) (string, span) {
		if i < 0 || at[2*i] < 0 {
			return "", span{-1, -1}
		}
		return strings.TrimSpace(text[at[2*i]:at[2*i+1]]), span{at[2*i], at[2*i+1]}
	}
	value, inValue := group(p.value)
	sign, inSign := group(p.sign)
	unit, inUnit := group(p.unit)
	v, err := geom.ParseNumber(value)
	if err != nil {
		return 0, &LineError{text, "has no figure where the pattern says: " + err.Error()}
	}
	if why := p.doubt(text, span{at[0], at[1]}, inValue, inSign, inUnit); why != "" {
		return 0, &LineError{text, why}
	}
	if v == 0 && strings.ContainsAny(strings.FieldsFunc(value, func(r rune) bool { return r == 'e' || r == 'E' })[0], "123456789") {
		return 0, &LineError{text, "has the figure " + value + ", which is too small to be one"}
	}
	switch sign {
	case "", "+":
	case "-", "−":
		if strings.ContainsAny(value[:1], "+-") || strings.HasPrefix(value, "−") {
			return 0, &LineError{text, "has two signs"}
		}
		v = -v
	default:
		return 0, &LineError{text, fmt.Sprintf("has the sign %q, need + or -", sign)}
	}
	own := unitNamed(unit)
	switch {
	case unit == "" || own.is(u):
		return u.MM(v), nil
	case stated:
		return 0, &UnitError{unit, u}
	case own == nil:
		return 0, &LineError{text, fmt.Sprintf("has the unit %q, need one of %s; where it is no unit, "+
			"state a pattern that leaves it out", unit, unitSymbols())}
	}
	return v * own.mm, nil
}

// doubt says why a figure may be half of one; empty for a whole one.
func (p *Pattern) doubt(text string, match, value, sign, unit span) string {
	all := around(value, sign, unit)
	if p.usual {
		return half(text, all, value, unit)
	}
	return cut(text, match, all, value)
}
