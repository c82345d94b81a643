package record

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
)

type (
	// HeardLine is a line that has come from a cable indicator, made harmless, and what it means by the settings that are tried.
	HeardLine struct {
		Say     string    `json:"say"`
		Raw     string    `json:"raw"`
		Value   *Number   `json:"value"` // in Unit, in the dial's sign; null where it is no reading
		Unit    geom.Unit `json:"unit"`
		Steady  bool      `json:"steady"` // it stands still since as many samples as are stated
		Because string    `json:"because,omitempty"`
		Skipped int       `json:"skipped,omitempty"` // lines before it that are not told
		text    string
	}
	// GaugeKnobsLine says how a cable indicator is set up so far.
	GaugeKnobsLine struct {
		Say    string      `json:"say"`
		Source string      `json:"source"`
		Knobs  []GaugeKnob `json:"settings"`
	}
	// GaugeKnob is one thing that can be set, how it is, and what it is commonly set to, by numbers from 1.
	GaugeKnob struct {
		Key     string   `json:"key"`
		Words   string   `json:"text"`
		Is      string   `json:"is"`
		Choices []string `json:"choices"`
	}
	// GaugeKnobLine tells of one of them.
	GaugeKnobLine struct {
		Say string `json:"say"`
		GaugeKnob
	}
	// GaugeStatesLine is what a machine's file has to say of a cable indicator, where no machine is named.
	GaugeStatesLine struct {
		Say   string    `json:"say"`
		Words string    `json:"text"`
		Unit  geom.Unit `json:"unit"` // of its lengths
	}
	// GaugeAdviceLine says what to do next while a cable indicator is set up.
	GaugeAdviceLine struct {
		Say   string `json:"say"`
		Words string `json:"text"`
	}
)

// Heard tells of a line; skipped is how many before it are not told.
func Heard(t *gauge.Trying, h *gauge.Heard, steady bool, skipped int) HeardLine {
	l := HeardLine{Say: "heard", Raw: h.Raw, Unit: t.Unit(), Steady: steady, Skipped: skipped}
	switch {
	case h.Why != nil:
		l.Because = h.Because()
		l.text = h.Raw + "  is no reading: " + l.Because
	default:
		l.Value = orNull(&h.MM)
		*l.Value = Number(RoundTo(t.Unit().From(h.MM), geom.Places(0, t.Unit())+2))
		l.text = h.Raw + "  is " + t.Length(h.MM)
		if steady {
			l.text += ", and stands still"
		}
	}
	if skipped > 0 {
		l.text = fmt.Sprintf("(before it, not shown: %d)\n", skipped) + l.text
	}
	return l
}

// Text: the line for a person.
func (l HeardLine) Text() string { return l.text }

// GaugeKnobs tells how an indicator is set up so far.
func GaugeKnobs(t *gauge.Trying) GaugeKnobsLine {
	s := t.Settings()
	l := GaugeKnobsLine{Say: "settings", Source: s.Source}
	for i := range gauge.Knobs {
		k := &gauge.Knobs[i]
		if k.Acts(t) {
			l.Knobs = append(l.Knobs, KnobOf(t, k).GaugeKnob)
		}
	}
	return l
}

// KnobOf tells of one thing that can be set.
func KnobOf(t *gauge.Trying, k *gauge.Knob) GaugeKnobLine {
	l := GaugeKnobLine{"setting", GaugeKnob{Key: k.Key, Words: k.Words, Is: k.Now(t)}}
	for _, v := range k.Values(t) {
		l.Choices = append(l.Choices, v.Words)
	}
	return l
}

// Text: the lines for a person.
func (l GaugeKnobsLine) Text() string {
	out := []string{"cable indicator: " + l.Source}
	for _, k := range l.Knobs {
		out = append(out, fmt.Sprintf("%s: %s (%s)", k.Words, k.Is, k.Key))
	}
	return strings.Join(out, "\n  ")
}

// Text: the lines for a person.
func (k GaugeKnobLine) Text() string {
	out := []string{fmt.Sprintf("%s: %s", k.Words, k.Is)}
	for i, c := range k.Choices {
		out = append(out, fmt.Sprintf("%s %d  %s", k.Key, i+1, c))
	}
	return strings.Join(out, "\n  ")
}

// GaugeStates says what to write into a machine's file whose lengths are in a unit.
func GaugeStates(table string, u geom.Unit) GaugeStatesLine {
	return GaugeStatesLine{"states", table, u}
}

// Text: the lines for a person.
func (l GaugeStatesLine) Text() string {
	return fmt.Sprintf("write this into the machine's file, whose lengths are in %v:\n%s", l.Unit, strings.TrimRight(l.Words, "\n"))
}

// GaugeAdvice says what to do next.
func GaugeAdvice(words string) GaugeAdviceLine { return GaugeAdviceLine{"advice", words} }

// Text: the line for a person.
func (l GaugeAdviceLine) Text() string { return l.Words }
