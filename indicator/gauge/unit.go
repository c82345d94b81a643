package gauge

import (
	"regexp"
	"slices"
	"strings"

	"example.org/trammel/geom"
)

// lineUnit is a unit as instruments write it: in small letters, with what one of it is in millimetres.
type lineUnit struct {
	symbols []string
	mm      float64
}

// lineUnits are those that a line may name, in capitals or small letters. A mil, or thou, is a thousandth of an inch. A metre is none:
// it is what a spoiled mm would look like.
var lineUnits = []lineUnit{
	{[]string{"mm", "millimetre", "millimetres", "millimeter", "millimeters"}, 1},
	{[]string{"in", "inch", "inches", "ins", `"`, "″", "''"}, geom.MillimetresPerInch},
	{[]string{"um", "µm", "μm", "micron", "microns"}, 1e-3},
	{[]string{"cm"}, 10},
	{[]string{"mil", "mils", "thou"}, geom.MillimetresPerInch / 1000},
	{[]string{"uin", "µin", "μin"}, geom.MillimetresPerInch / 1e6},
}

// is reports whether a unit is one of ours.
func (l *lineUnit) is(u geom.Unit) bool { return l != nil && l.symbols[0] == u.String() }

// unitNamed is the unit of a line's symbol; nil for none.
func unitNamed(symbol string) *lineUnit {
	for i := range lineUnits {
		if slices.Contains(lineUnits[i].symbols, strings.ToLower(symbol)) {
			return &lineUnits[i]
		}
	}
	return nil
}

func unitSymbols() string {
	var all []string
	for _, l := range lineUnits {
		all = append(all, l.symbols[0])
	}
	return strings.Join(all, ", ")
}

// unitPattern is one of all units' symbols, the longest first; without a quote in it, so that a file may hold it in single ones.
func unitPattern() string {
	var all []string
	for _, l := range lineUnits {
		for _, s := range l.symbols {
			all = append(all, strings.ReplaceAll(regexp.QuoteMeta(s), "'", `\x27`))
		}
	}
	slices.SortStableFunc(all, func(a, b string) int { return len(b) - len(a) })
	return `(?i:` + strings.Join(all, "|") + `)`
}
