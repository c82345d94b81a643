package job

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/indicator/slide"
)

// needleShorts say a question of the needle test in few words, and what it asks for in large letters where that is another.
var needleShorts = map[string]struct{ short, large string }{
	"slide":      {"slide to test", "which slide?"},
	"kind":       {"indicator", "which indicator?"},
	"graduation": {"one mark of the dial", "one mark is?"},
	"range":      {"tip goes in all", "tip goes how far?"},
	"eye":        {"turn clockwise, by eye", "turn clockwise, look"},
	"pressing":   {"tip pressed, reading", "press tip, look"},
	"side":       {"face lies", "where is the face?"},
	"read_1":     {"at the start", ""},
	"read_2":     {"wound on", ""},
	"read_3":     {"wound back", ""},
	againKey:     {"then", "another round?"},
}

// needleShort is a question of the needle test in few words: X round 1 wound on.
func needleShort(key string) string {
	parts := strings.Split(strings.TrimPrefix(key, "needle."), ".")
	end := parts[len(parts)-1]
	words, ok := needleShorts[end]
	if !ok {
		words.short = strings.ReplaceAll(end, "_", " ")
	}
	if i := slices.IndexFunc(takeAsks, func(q asks) bool { return q.key == end }); i >= 0 {
		words.short = "take " + strings.ReplaceAll(strings.TrimPrefix(end, "take_"), "_", " ")
	}
	if len(parts) == 1 {
		return words.short
	}
	lead := SlideWords(parts[0]) + " "
	if len(parts) == 3 {
		lead += fmt.Sprintf("round %d ", roundOf(parts[1]))
	}
	return lead + words.short
}

// Large says in large letters what comes next: the movements of the hand, or what is asked.
func (q *Question) Large() string {
	if ofTest(q.Key) {
		if large := needleShorts[lastPart(q.Key)].large; large != "" {
			return large
		}
	}
	if len(q.Moves) == 0 {
		return q.Short() + "?"
	}
	var all []string
	for _, m := range q.Moves {
		all = append(all, shortTurn(m))
	}
	return "wind " + strings.Join(all, ", then ") + ", read"
}

// shortTurn is a movement for large letters: 1 turn 25 div clockwise.
func shortTurn(m slide.Move) string {
	return strings.ReplaceAll(strings.ReplaceAll(amount(m), " divisions", " div"), " division", " div") + " " + m.Turn.String()
}
