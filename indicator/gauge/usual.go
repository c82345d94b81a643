package gauge

import "slices"

// What patterns are made of. A number is one with marks in it that cannot be read, too, so that it is refused as a whole; and whatever
// word or quotes stand behind it are its unit, so that one that nobody knows is refused, too.
const (
	signed   = `(?P<sign>[+−-])?[ \t]*`
	figure   = `(?P<value>[.,]?[0-9]+(?:[.,][0-9]+)*(?:[eE][+-]?[0-9]+)?)`
	apart    = `[ \t_,;(\[]*`
	mayUnits = `(?:` + apart + `(?P<unit>[\pL"\x27′″”]+))?`
	// before is where a number may begin whose sign would not be seen elsewhere: behind a character of another kind, or a blank
	// behind another number.
	before = `(?:[^0-9.,+−\- \t]|[0-9.,][ \t]+)`
	behind = `[^0-9+−-]*$`
)

// FirstNumber is the pattern where none is stated: the first number of a line, and its unit where that follows.
const FirstNumber = signed + figure + mayUnits

// UsualPattern is a form that lines often have (common practice, no source), in words; Text is empty for [FirstNumber].
type UsualPattern struct{ Words, Text, Example string }

// UsualPatterns are those that are tried first, the likeliest first.
var UsualPatterns = []UsualPattern{
	{"the first number of the line", "", "+0.118 mm"},
	{"the last number of the line", `^(?:.*` + before + `)?[ \t]*` + signed + figure + mayUnits + behind, "A1 -0.118"},
	{"a number alone, and nothing else", `^[ \t]*` + signed + figure + `[ \t]*$`, "-0.118"},
	{"a number with its unit", signed + figure + apart + `(?P<unit>` + unitPattern() + `)(?:\PL|$)`, "7: -0.118 mm"},
	{"a number with its sign behind it", `^[^0-9+−-]*` + figure + mayUnits + `[ \t]*(?P<sign>[+−-])?`, "0.118-"},
	{"the number behind a = or a colon", `[=:][ \t]*` + signed + figure + mayUnits, "X1=-0.118"},
	{"a number with a comma as decimal point", `(?:^|` + before + `)[ \t]*` + signed + `(?P<value>[0-9]*,[0-9]+)` + mayUnits, "2.5 -0,118"},
	{"the second of several columns", `^[^,;\t]*[,;\t][ \t]*` + signed + `(?P<value>[0-9]*[.,]?[0-9]+)` + mayUnits, "01,-0.118,9"},
}

// PatternWords name a pattern: a usual one by its words, another as it is written.
func PatternWords(text string) string {
	i := slices.IndexFunc(UsualPatterns, func(u UsualPattern) bool { return u.Text == text || text == FirstNumber && u.Text == "" })
	if i < 0 {
		return text
	}
	return UsualPatterns[i].Words
}
