package lines_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// A reading that nobody typed says where it comes from, on its line, in a replay, and as an object; lengths in the unit that is
// asked for: 0.0254 mm are 0.001 in.
func TestGaugedInWords(t *testing.T) {
	steps := replay(t, "v1-practice-7.jsonl")
	for _, st := range steps {
		e, ok := st.Event.(session.Took)
		if !ok {
			continue
		}
		plain := lines.Happened(st, geom.Inch)
		e.Gauge = session.Gauged{Source: "serial:/dev/tty\x1bS1", Samples: 10, Spread: 0.0254}
		st.Event = e
		said := lines.Happened(st, geom.Inch)
		if want := ", mean of 10 samples of serial:/dev/tty\ufffdS1, spread 0.001 in"; strings.Replace(said, want, "", 1) != plain {
			t.Errorf("%q, want %q with %q", said, plain, want)
		}
		b, err := json.Marshal(lines.Of(st, geom.Inch)[0])
		if want := `"gauge":{"source":"serial:/dev/tty\u001bS1","samples":10,"spread":0.001}`; err != nil || !strings.Contains(string(b), want) {
			t.Errorf("%s, %v, want %s", b, err, want)
		}
		e.Gauge = session.Gauged{Source: "fifo:g", Samples: 1}
		if st.Event = e; !strings.Contains(lines.Happened(st, geom.Inch), ", sent by fifo:g") {
			t.Errorf("a button: %q", lines.Happened(st, geom.Inch))
		}
		return
	}
	t.Fatal("no reading in the journal")
}

func TestGaugeLines(t *testing.T) {
	s := replay(t, "v1-practice-7.jsonl")[0].After
	for want, l := range map[string]lines.Line{
		"the needle stands still at +0.1180 mm":                lines.Needle(&s, gauge.Needle{Value: 0.118, Stable: true}, geom.Millimetre),
		"the needle moves":                                     lines.Needle(&s, gauge.Needle{Value: 0.118}, geom.Millimetre),
		"the cable indicator is lost: \ufffd[31mgone; see to":  lines.GaugeLost(errors.New("\x1b[31mgone"), false),
		"is lost: nothing has come for 5 s; see to plug":       lines.GaugeSilent(5 * time.Second),
		"the cable indicator is found":                         lines.GaugeFound(),
		"3 of the cable indicator's lines are no readings, th": lines.GaugeUnread(3, &gauge.UnitError{Named: "in"}),
		`: it sends "in", need mm; switch the indicator over`:  lines.GaugeUnread(3, &gauge.UnitError{Named: "in"}),
	} {
		if !strings.Contains(l.Text(), want) {
			t.Errorf("%q, want %q", l.Text(), want)
		}
	}
}
