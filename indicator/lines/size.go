package lines

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

type (
	// SizeLine says that the touched radius contradicts what is stated, Limit null where nobody said one; Station is the one
	// point that would explain it, null where none alone does. Answers are numbered from 1.
	SizeLine struct {
		Say     string        `json:"say"`
		Trial   int           `json:"trial"`
		Radius  record.Value  `json:"radius"`
		Stated  record.Number `json:"stated"`
		Limit   record.Number `json:"limit"`
		Station *int          `json:"station"`
		Answers []string      `json:"answers"`
		text    string
	}
	// SizedLine says that the reference is really of the touched radius.
	SizedLine struct {
		Say    string        `json:"say"`
		Trial  int           `json:"trial"`
		Radius record.Number `json:"radius"`
		text   string
	}
)

// Text: see [Line].
func (l SizeLine) Text() string { return l.text }

// Text: see [Line].
func (l SizedLine) Text() string { return l.text }

var contradicted = told[session.Contradicted]{happened: func(session.Contradicted) string {
	return "the touched radius contradicts what is stated"
}}.row()

var retouched = told[session.Retouched]{status: asText, undo: func(_ *session.State, e session.Retouched, _ geom.Unit) string {
	return fmt.Sprintf("the wish to touch point %d again", e.Station)
}, happened: func(e session.Retouched) string {
	return fmt.Sprintf("point %d is to be touched again", e.Station)
}}.row()

var sized = told[session.Sized]{status: asText, undo: func(_ *session.State, e session.Sized, u geom.Unit) string {
	return "the word on the size of the reference, radius " + long(e.Radius, u)
}, lines: func(st session.Step, e session.Sized, u geom.Unit) []Line {
	return []Line{SizedLine{"sized", st.After.Trial, record.Number(u.From(e.Radius)), SizedWords(e, u)}}
}}.row()

// SizedWords say what the reference's radius really is.
func SizedWords(e session.Sized, u geom.Unit) string {
	return fmt.Sprintf("the reference is really of radius %s %v %s, by the word at the machine; correct it in the job file "+
		"(setup.reference_radius) or in the drawing", geom.FormatFixed(u.From(e.Radius), geom.Places(0, u)), u, across(e.Radius, u))
}

// size asks what the contradiction is to be.
func size(s *session.State, q session.SizeAsked, u geom.Unit) Line {
	t, _ := s.Located()
	l := SizeLine{Say: "size", Trial: s.Trial, Radius: *record.ValueOf(u, t.Radius()), Stated: record.Number(u.From(q.Stated)),
		Limit: record.Number(nan), Answers: SizeAnswers(q)}
	if q.Limit > 0 {
		l.Limit = record.Number(u.From(q.Limit))
	}
	if q.Station > 0 {
		l.Station = &q.Station
	}
	var answers []string
	for i, a := range l.Answers {
		answers = append(answers, fmt.Sprintf("%d: %s", i+1, a))
	}
	l.text = SizeWords(s, q, u) + "; " + strings.Join(answers, "; ")
	return l
}

// SizeAnswers are the answers in words, in their order.
func SizeAnswers(q session.SizeAsked) (out []string) {
	for _, a := range q.Answers {
		switch {
		case a.Keep:
			out = append(out, "keep, the reference is really that size")
		case a.Station > 0:
			out = append(out, fmt.Sprintf("touch point %d again", a.Station))
		default:
			out = append(out, "again, all points anew")
		}
	}
	return out
}

// SizeWords say what contradicts what, and what would explain it.
func SizeWords(s *session.State, q session.SizeAsked, u geom.Unit) string {
	t, _ := s.Located()
	whose := "the reference's"
	if q.Drawn {
		whose = "the drawing's"
	}
	within := ""
	if q.Limit > 0 {
		within = fmt.Sprintf(" ±%s", geom.FormatFixed(u.From(q.Limit), geom.Places(0, u)))
	}
	why := "no point alone explains it: the stated radius, the tip's diameter, or the side that was touched"
	switch {
	case q.Station > 0:
		why = fmt.Sprintf("point %d alone would explain it", q.Station)
	case s.Sweep.Readings() == 3:
		why = "it is one of the three points, or the stated radius"
	}
	return fmt.Sprintf("the touched radius is %s %s, and %s is %s%s %v %s: nothing is wound by it; %s",
		record.ValueOf(u, t.Radius()).Text(u), across(q.Radius, u), whose, geom.FormatFixed(u.From(q.Stated), geom.Places(0, u)), within, u,
		across(q.Stated, u), why)
}
