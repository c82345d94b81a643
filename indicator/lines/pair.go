package lines

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

var paired = told[session.Paired]{lines: func(st session.Step, _ session.Paired, u geom.Unit) []Line {
	s := &st.After
	p, ok := s.Pair()
	if !ok {
		return nil
	}
	j := &s.Set.Job
	return []Line{FitLine{Say: "fit", Trial: s.Trial, Fit: record.NewPair(&p, j.Setup, indicator.DialAlone(j.Dial, j.Stated), u)}}
}}.row()
