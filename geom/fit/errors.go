package fit

import "fmt"

// TooFewError: there are not enough distinct bearings for the unknowns.
type TooFewError struct{ Have, Need int }

func (e *TooFewError) Error() string {
	return fmt.Sprintf("%d distinct stations, need at least %d", e.Have, e.Need)
}

// SingularError: the bearings lie so close together that a combination of radius and centre is
// left open.
type SingularError struct{ Condition float64 }

func (e *SingularError) Error() string {
	return fmt.Sprintf("the stations lie too close together to tell radius from centre (condition %.1g, need below %.1g)", e.Condition,
		maxCondition)
}

// OutsideError: no circle that the readings could come from has the axis inside it, where a sweep
// has to stand. Offset and Radius are where the search ended, millimetres: a bound and no finding,
// so the message leaves them out.
type OutsideError struct{ Offset, Radius float64 }

func (e *OutsideError) Error() string {
	return "no circle fits these readings with the axis inside it"
}

// ValueError: a bearing, reading or weight is not a number that can be used.
type ValueError struct{ Index int } // from 0

func (e *ValueError) Error() string {
	return fmt.Sprintf("reading %d is not finite, or too large, or has no weight", e.Index+1)
}
