// Package practice is a simulated machine to practise on, and to judge the program by: a mill
// with an offset-spindle head, an indicator locked in its spindle, and a round reference on the
// table.
//
// Whatever it shows comes from points and vectors (a straight line meets a circle) and from the
// play between a nut and its screw. With a rotary table it is the work that is turned (see [Table]).
// It shares no formula and no sign with the fit, the dial or
// the winds of the program, so that an error made there cannot hide by being made here as well.
//
// Lengths are millimetres, angles radians; seen from above, X points to the right, Y away from
// the operator, and angles run counter-clockwise. The work lies still, or turns with the table. The
// coordinates of the slides x and y grow when the head moves along +X and +Y over the work; those of
// table_x and table_y when the work moves along the table's own +X and +Y.
//
// # What the convergence bench draws
//
// A drawn machine comes with what its owner could know of it, and more. Errors of the reference's radius and of the
// reach are constants that no sweep can show: the drawn job states them as limits (±3 µm), and the lean too, so that
// the verdict covers them. Slides begin unclamped and loaded, as the order at the machine has it; once one clamp is
// shut all are, and truth is judged with all of them shut. The hands accept nothing but "inside", and sweep again.
// They take five stations, because of four a three-jaw squeeze passes for a centre error, and of three an oval.
//
// Of a table the hands go by the ring's figure alone, so that its zero and its sense are under test. Acceptances are
// judged by the machine's own state.
package practice
