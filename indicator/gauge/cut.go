package gauge

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
)

// span is where something stands in a line, bytes.
type span struct{ from, to int }

// around are the spans' outermost ends; those of groups that took no part are below 0.
func around(spans ...span) span {
	out := span{-1, -1}
	for _, s := range spans {
		if s.from >= 0 && s.to > s.from {
			if out.from < 0 {
				out.from = s.from
			}
			out = span{min(out.from, s.from), max(out.to, s.to)}
		}
	}
	return out
}

// lately is a pattern that is compiled when it is first asked for: most starts of the program ask for none.
func lately(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// What must not stand before a figure with its sign, or behind one with its unit: it may be half of another figure then. A comma
// behind a figure that has a point parts two of them.
var (
	halfBefore = lately(`(?:[0-9.xE/]|[+−-] ?)$`)
	halfBehind = lately(`^(?:[0-9./]| ?[+−-])`)
	halfComma  = lately(`^,`)
	moreBehind = lately(`^ [0-9]`) // of a figure whose unit is not named
)

// What a figure goes on with, where a pattern cuts it short.
var (
	cutBefore  = lately(`[0-9+−-][.]?$`)
	cutBehind  = lately(`^(?:[.]?[0-9]|[+−/-]|[eE][+-]?[0-9])`)
	commaAt    = lately(`[0-9],$`)
	commaFrom  = lately(`^,[0-9]`)
	figureEnd  = lately(`[0-9+−.,-]*$`)
	figureHead = lately(`^[0-9+−.,/eE-]*`)
)

// half says why a usual pattern's figure may be half of one; empty for a whole one.
func half(text string, all, value, unit span) string {
	left, right := text[:all.from], text[all.to:]
	seen := halfBefore().FindString(left)
	behind, more := halfBehind(), moreBehind()
	for _, r := range []*regexp.Regexp{behind, halfComma(), more} {
		with := r == behind || unit.to <= unit.from && (r == more || !strings.Contains(text[value.from:value.to], "."))
		if seen == "" && with {
			seen = r.FindString(right)
		}
	}
	if seen == "" {
		return ""
	}
	return fmt.Sprintf("has %q at the figure %s, which may be half of one; where it is whole, state a pattern", strings.TrimSpace(seen),
		text[value.from:value.to])
}

// cut says what longer figure a pattern that was stated has cut its value out of; empty for a whole one. What the pattern itself takes
// in beside the value is meant to stand there: match is all of it.
func cut(text string, match, all, value span) string {
	left, right, point := text[:match.from], text[match.to:], strings.Contains(text[value.from:value.to], ".")
	before := all.from == match.from && (cutBefore().MatchString(left) || !point && commaAt().MatchString(left))
	behind := all.to == match.to && (cutBehind().MatchString(right) || !point && commaFrom().MatchString(right))
	if !before && !behind {
		return ""
	}
	whole := figureEnd().FindString(left) + text[all.from:all.to] + figureHead().FindString(right)
	return fmt.Sprintf("has a value by the pattern, %s, that is a piece of %q; state a pattern that takes the whole figure",
		text[value.from:value.to], whole)
}

// usual reports whether a pattern is one of ours.
func usual(text string) bool {
	return text == FirstNumber || slices.ContainsFunc(UsualPatterns, func(u UsualPattern) bool { return u.Text == text })
}
