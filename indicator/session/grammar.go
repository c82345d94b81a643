package session

import (
	"errors"
	"strconv"
	"strings"
	"unicode"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// ErrUnknownWord: what was typed is neither a number nor a word that is known here.
var ErrUnknownWord = errors.New("neither a number nor a word that is known here")

// Parse reads one line as it is typed: a word with what belongs to it, or a number, or two coordinates, lengths in
// unit u. An empty line confirms. The error is [ErrUnknownWord], or a *[Refusal] where the word is known.
func Parse(text string, u geom.Unit) (Command, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return Confirm{}, nil
	}
	word, rest := text, ""
	if i := strings.IndexFunc(text, unicode.IsSpace); i >= 0 {
		word, rest = text[:i], text[i+1:]
	}
	for _, r := range commands {
		if r.Word == word {
			return r.parse(rest, u)
		}
	}
	if v, err := geom.ParseNumber(text); err == nil {
		return Take{Reading: u.MM(v)}, nil
	}
	if at, err := ParsePoint(text, u); err == nil {
		return at, nil
	}
	return nil, ErrUnknownWord
}

// Read reads a line that is typed in an open session, as [Parse] does in the job's unit, and knows what is asked: see
// [State.Figure] and [Dialled].
func (s *State) Read(text string) (Command, error) {
	j := &s.Set.Job
	text = strings.TrimSpace(text)
	if fields := strings.Fields(text); len(fields) > 0 {
		for _, r := range commands {
			if r.OfDial && r.Word == fields[0] {
				return r.parse(dialled(fields[1:], j), j.Unit)
			}
		}
	}
	if _, err := geom.ParseNumber(text); err == nil || geom.Fractional(text) {
		return s.Figure(text)
	}
	return Parse(text, j.Unit)
}

// Figure reads a bare number in the job's unit, as what is asked for: where the dial is read it may count thousandths (see
// [Dialled]), and a radius that was measured on the arc may be a fraction. What an instrument shows in figures of its own, dial
// or readout, is never taken as a fraction: it would be somebody's rounding. The error is a *[geom.NumberError] or a *[Refusal].
func (s *State) Figure(text string) (Command, error) {
	const pointed = "type it with a point"
	j, p := &s.Set.Job, s.Prompt()
	if p.Needle() {
		text = Dialled(text, j)
	}
	if !geom.Fractional(text) {
		v, err := geom.ParseNumber(text)
		if err != nil {
			return nil, err
		}
		return Take{Reading: j.Unit.MM(v)}, nil
	}
	v, err := geom.ParseLength(text, j.Unit)
	switch {
	case err != nil:
		return nil, refuse(pointed, "%v", err)
	case !p.measured():
		return nil, refuse(pointed, "%q is a fraction, need what the dial or the readout shows, in its own figures", text)
	}
	return Take{Reading: j.Unit.MM(v)}, nil
}

// Dialled is what was typed for a reading of the job's dial, in the job's unit: where it says so, a whole number without a point
// counts thousandths, and 12 is 0.012 in. All else stays as it is: a point says inches.
func Dialled(text string, j *setup.Job) string {
	if j.Dial.WholeNumbers != indicator.Thousandths || j.Unit != geom.Inch || !geom.Whole(text) {
		return text
	}
	v, err := geom.ParseNumber(text)
	if err != nil {
		return text
	}
	return strconv.FormatFloat(v/1000, 'f', -1, 64)
}

// dialled is Dialled of each of several figures.
func dialled(fields []string, j *setup.Job) string {
	for i := range fields {
		fields[i] = Dialled(fields[i], j)
	}
	return strings.Join(fields, " ")
}

// Phrase is something that may be typed, figures in capitals, with what it is for.
type Phrase struct{ Text, Help string }

// Phrases lists all that may be typed; own are others beside those, each in front of the word that it is listed before, and
// behind all others where that is empty.
func Phrases(own map[string]Phrase) (out []Phrase) {
	add := func(word string) {
		if f, ok := own[word]; ok {
			out = append(out, f)
		}
	}
	for _, r := range commands {
		if r.Word == "" {
			continue
		}
		add(r.Word)
		out = append(out, r.Forms...)
	}
	add("")
	return out
}

// asked makes what a screen asks for of what would be typed behind the word.
func asked[C Command](parse func(string, geom.Unit) (C, error)) func(*State, string) (Command, error) {
	return func(s *State, text string) (Command, error) {
		c, err := parse(text, s.Set.Job.Unit)
		if err != nil {
			return nil, err
		}
		return c, nil
	}
}
