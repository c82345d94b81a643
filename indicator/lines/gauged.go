package lines

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// GaugedBy is where a reading comes from that nobody typed.
type GaugedBy struct {
	Source  string        `json:"source"`
	Samples int           `json:"samples"`
	Spread  record.Number `json:"spread"`
}

// gaugedBy is nil for a reading that was typed.
func gaugedBy(g session.Gauged, u geom.Unit) *GaugedBy {
	if g == (session.Gauged{}) {
		return nil
	}
	return &GaugedBy{g.Source, g.Samples, record.Number(u.From(g.Spread))}
}

// GaugedWords say where a reading comes from, behind it; empty for one that was typed.
func GaugedWords(g session.Gauged, u geom.Unit) string {
	switch {
	case g == (session.Gauged{}):
		return ""
	case g.Samples == 1:
		return ", sent by " + geom.PrintableLine(g.Source)
	}
	return fmt.Sprintf(", mean of %d samples of %s, spread %s %v", g.Samples, geom.PrintableLine(g.Source), twoDigits(u.From(g.Spread)), u)
}

// twoDigits prints a spread to its first two digits that are not 0, and never as a power of ten.
func twoDigits(v float64) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 2, 64), 64)
	if err != nil {
		short = v
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}

// NotMoved asks about a needle that has not moved since a station.
func NotMoved(station int) string {
	return fmt.Sprintf("the needle has not moved since station %d: was the head swung, or the table turned?", station)
}

// NeedleLine says that the needle of an indicator with a cable has come to rest, or moves again.
type NeedleLine struct {
	Say    string        `json:"say"`
	Value  record.Number `json:"value"`
	Stable bool          `json:"stable"`
	text   string
}

// Text: see [Line].
func (l NeedleLine) Text() string { return l.text }

// Needle is what the needle shows now.
func Needle(s *session.State, n gauge.Needle, u geom.Unit) Line {
	places := record.ReadingPlaces(s.Set.Job.Dial, u) + 1 // a mean is finer than a sample
	v := u.From(n.Value)
	l := NeedleLine{"needle", record.Number(record.RoundTo(v, places)), n.Stable, "the needle moves"}
	if math.IsNaN(v) {
		return l
	}
	if n.Stable {
		l.text = fmt.Sprintf("the needle stands still at %s %v", geom.FormatSigned(v, places), u)
	}
	return l
}

// GaugeLine says what has become of the line of an indicator with a cable.
type GaugeLine struct {
	Say string `json:"say"`
	// State is lost, found, unread where lines came that are no readings, or restless where the needle never stands still.
	State   string `json:"state"`
	Lines   int    `json:"lines,omitempty"`
	Because string `json:"because,omitempty"`
	Hint    string `json:"hint,omitempty"`
}

// Text: see [Line].
func (l GaugeLine) Text() string {
	t := "the cable indicator is " + l.State
	if l.State == unread {
		t = fmt.Sprintf("%d of the cable indicator's lines are no readings, the last one", l.Lines)
		if l.Lines == 1 {
			t = "a line of the cable indicator is no reading"
		}
	}
	if l.Because != "" {
		t += ": " + geom.PrintableLine(l.Because)
	}
	if l.Hint != "" {
		t += "; " + geom.PrintableLine(l.Hint)
	}
	return t
}

// unread is the state of a line that sends what is no reading.
const unread = "unread"

// GaugeLost says that the line is gone, and why; for good where it is not tried again.
func GaugeLost(because error, forGood bool) Line {
	l := GaugeLine{Say: "gauge", State: "lost", Because: because.Error(),
		Hint: "see to plug and cable; it is tried again and again, and typing goes on"}
	if forGood {
		l.Hint = "typing goes on"
	}
	return l
}

// GaugeSilent says that a line which is there has sent nothing for so long.
func GaugeSilent(d time.Duration) Line {
	return GaugeLine{Say: "gauge", State: "lost", Because: fmt.Sprintf("nothing has come for %.0f s", d.Seconds()),
		Hint: "see to plug and cable, and whether the indicator is on or has gone to sleep; typing goes on"}
}

// GaugeRestless says that the needle never stands still.
func GaugeRestless(r *gauge.Restless, u geom.Unit) Line {
	because, hint := r.In(u)
	return GaugeLine{Say: "gauge", State: "restless", Because: because, Hint: hint}
}

// GaugeFound says that it is there again.
func GaugeFound() Line { return GaugeLine{Say: "gauge", State: "found"} }

// GaugeUnread says that so many lines were no readings.
func GaugeUnread(n int, because error) Line {
	l := GaugeLine{Say: "gauge", State: unread, Lines: n, Because: because.Error()}
	if says, ok := because.(interface{ Hint() string }); ok {
		l.Hint = says.Hint()
	}
	return l
}
