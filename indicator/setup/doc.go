// Package setup holds the values of a job and a machine, and the set-ups: each is a ground, which says how a sweep is
// made and what its readings say, with a mover, which says what is wound and how. Whoever needs one of these answers
// asks the set-up, and never which one it is.
//
// # A table that is turned
//
// It is fitted in its own frame. There the reference stands still and the indicator goes round it, so the fit, the
// obstacles, further stations and parked readings are those of a carried sweep. The table's angle appears at the
// edges only, in what is asked and in the lines made of it: where to park is recorded as the bearing of the plate,
// and table and ring follow from the opening. A table's angle of its own is recorded only where a handwheel can be
// reached from nowhere else.
//
// # Points
//
// They are a sweep seen from the circle's own centre ([indicator.Setup.Locate]), so looks, further stations, ellipse
// and alarms serve as they are. The sweep's verdict is whether the centre is known well enough; the setting's is of
// the same circle seen from where the spindle stands. Nothing is swept behind the winds, so that verdict has the
// points' doubt and that of where the readout says the slide was stopped. By a collar without a readout, 2 % of 30 mm
// leaves it undecided until the coordinates are told.
//
// # Taps
//
// A tap is told and answered as a wind is, so undo, the doubt of what is read behind it, and history are those of
// winds. A line is left within a quarter of its tolerance. What went aside no needle has shown, so the next sweep
// finds it: hence 2.5 trials in the mean.
//
// # A spindle set off a table's axis
//
// The sweep shows the centre only, and the way off is told as a wind that belongs to no trial: lesson and learning
// know nothing of it. A new sweep begins with the way back.
//
// # An arc about no hole
//
// The same second act, by both cross slides: the axis is brought over a reference and carried on to the arc's centre. The
// drawing's angle is found along the first slide, so the way is worked out in that slide's frame, by the directions of the
// machine's file: what winds have taught of directions is seen from the ring, and known to some tenths of a degree only,
// which over a long way would be more than all else. Where things stand is what is left of each slide's way, seen from the
// ring, with the doubts of the slides, of the angle across the way, and of their squareness.
package setup
