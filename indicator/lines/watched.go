package lines

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// WatchRefuses says why a wind that a cable indicator watches is not confirmed, and what it still wants; empty where it is, or its
// needle has only to come to rest. left is what is left to be done, in words.
func WatchRefuses(s *session.State, a *gauge.Approach, left string, u geom.Unit) (because, hint string) {
	length := func(mm float64) string { return geom.FormatFixed(u.From(mm), geom.Places(0, u)) + " " + u.String() }
	typed := left + "; or type the reading"
	switch a.Progress {
	case gauge.Stands, gauge.Moved, gauge.There, gauge.Unseen:
		return "", ""
	case gauge.Ready, gauge.Outward:
		if a.Off() {
			return "the needle was not past the turning point, " + watchFigure(
				s,
				a.Back,
				u,
			) + ", so that the backlash is not taken up", typed
		}
	case gauge.Over:
		return length(max(0, a.Beside())) + " too far, and only coming up again takes up the backlash", typed
	case gauge.Astray:
		return "the needle goes the other way: another handle, or the wrong way",
			"wind back; where it is wound as told, * lists the check of its sign"
	case gauge.Beyond:
		return "the needle is off the dial", "wind back, or type the reading"
	case gauge.Turning, gauge.Coming, gauge.Close:
	}
	return length(math.Abs(a.Left())) + " short of " + watchFigure(s, a.Reach(), u), typed
}

// WatchUnseen asks about a wind whose needle was not seen where it begins.
func WatchUnseen(s *session.State, a *gauge.Approach, u geom.Unit) string {
	return "the backlash may not be taken up: the needle was not seen where the wind begins, at " + watchFigure(s, a.Start, u)
}

// WatchLeft is what is left to be done of a wind that is watched, told as so many moves: no movement is left out.
func WatchLeft(s *session.State, a *gauge.Approach, moves []slide.Move, u geom.Unit) string {
	up := slide.Clockwise
	if len(moves) > 0 { // a journal may hold a wind of none
		up = moves[len(moves)-1].Turn
	}
	to := up.String() + " to " + watchFigure(s, a.Goal, u)
	if a.Off() {
		return (-up).String() + " past " + watchFigure(s, a.Back, u) + ", then " + to
	}
	return to
}

func watchFigure(s *session.State, mm float64, u geom.Unit) string {
	return geom.FormatSigned(u.From(mm), record.ReadingPlaces(s.Set.Job.Dial, u)) + " " + u.String()
}
