package session

import (
	"math"
	"strings"

	"example.org/trammel/geom"
)

// In setup points a station is a place where a tip was touched to the circle, and its reading the two
// coordinates that the readout showed. A sweep of them says where the circle's centre lies in the
// readout's own frame; what is left to do is to go there, and how far that is depends on where the
// spindle stands: where it touched last, or where a person has said since.

// TouchPoint enters the coordinates at which the tip touched, millimetres.
type TouchPoint struct{ At geom.Point }

func (TouchPoint) row() *CommandRow { return touchPoint }

var touchPoint = command[TouchPoint]{decide: func(s *State, c TouchPoint) (Event, error) { return decideTouch(s, c.At) }}.row()

// ParsePoint reads two coordinates in unit u, with spaces, tabs or a semicolon between them; both may
// have a decimal comma. The error is a *[Refusal].
func ParsePoint(text string, u geom.Unit) (TouchPoint, error) {
	const like = "the two coordinates, x first, like 12.345 -3.21"
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\t' || r == ';' })
	if len(fields) != 2 {
		return TouchPoint{}, refuse(like, "%d numbers, need x and y", len(fields))
	}
	x, err := geom.ParseNumber(fields[0])
	if err != nil {
		return TouchPoint{}, refuse(like, "%v", err)
	}
	y, err := geom.ParseNumber(fields[1])
	if err != nil {
		return TouchPoint{}, refuse(like, "%v", err)
	}
	return TouchPoint{geom.Point{X: u.MM(x), Y: u.MM(y)}}, nil
}

// farthest bounds a coordinate, millimetres: beyond is no machine, and its square is still a number.
const farthest = 1e6

func decideTouch(s *State, p geom.Point) (Event, error) {
	b, ok := s.NextBearing()
	switch {
	case !s.SetUp().Under().Pair:
		return nil, refuse("type the reading alone", "two numbers, and this setup reads one at a time")
	case !ok:
		return nil, refuse(s.hint(), "no point is asked for")
	case !(math.Abs(p.X) <= farthest && math.Abs(p.Y) <= farthest):
		return nil, refuse("", "coordinates %v and %v mm, need numbers within %v mm", p.X, p.Y, float64(farthest))
	}
	return Took{Bearing: b, At: (*Place)(&p), Again: s.again()}, nil
}

// pointAsked: the coordinates where the circle is touched at about a bearing.
type pointAsked struct{ stationAsked }

func (q pointAsked) prompt(s *State) Prompt {
	p := q.entry(s)
	p.Touch = true
	return Prompt{Waits: ForReading, Reading: p}
}

func (pointAsked) number(*State, float64) (Event, error) {
	return nil, refuse("the two coordinates, x first, like 12.345 -3.21", "one number, need the point's x and y")
}

func (q pointAsked) hint(s *State) string {
	if s.Doubt != nil {
		return q.stationAsked.hint(s)
	}
	return "touch the circle, then type x and y"
}

// goAsked: a wind to a coordinate, answered with the one at which the slide has come to stand.
type goAsked struct{ collarAsked }

func (goAsked) number(s *State, at float64) (Event, error) {
	u := s.Set.Job.Unit
	from := s.Stand(s.Told.Wind.Slide)
	goal := from.At + s.Told.Wind.Travel
	most := math.Max(mostAway, math.Abs(s.Told.Wind.Travel)/10)
	if s.Told.SetOff { // a readout shows all of it, however far
		most = mostAway
	}
	if !(math.Abs(at-goal) <= most) {
		return nil, refuse("wind on to the coordinate that is told, or look again",
			"%.6g %v is off by %.4g %v from the goal of %.6g %v, need it within %.4g %v", u.From(at), u, u.From(math.Abs(at-goal)), u,
			u.From(goal), u, u.From(most), u)
	}
	return Wound{Slide: s.Told.Wind.Slide, At: &at}, nil
}

func (q goAsked) hint(s *State) string {
	if s.SetUp().Under().Pair {
		return "go to the coordinate that is told, then type what the readout shows, or confirm"
	}
	return q.collarAsked.hint(s)
}

// mostAway bounds how far beside its goal a slide is believed to have been stopped by its readout: more is a
// slide that is still to be wound, or a coordinate mistyped (common practice, no source).
const mostAway = 0.5
