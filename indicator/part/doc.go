// Package part is the outline's trade: it turns an outline into work at the machine: which arcs are swung about
// which centres with which cutter at which swing radius, from which angle to which and in which sense, where the
// table stands for each, in which order, and by how much neighbouring elements will miss each other.
//
// [Make] reads an outline and gives a [Plan]. What it finds amiss (a corner too tight, a neighbour
// that would be gouged) is a [Problem] of the part, not an error. A [Situation] foretells the steps at
// the blends from what is believed of each setting, and advises how to bias those still to come.
//
// Lengths are millimetres, angles radians counter-clockwise from +X, seen from above.
//
// # From a plan to a setting
//
// Elements are numbered as they are drawn, loops first; arcs that go on as one are joined. The numbers follow from
// the layers and flags that the plan was asked for with, so the arc of a setting is not known by its number: its
// opening keeps a [Picked], and with it the drawing's digest as one more file. [Believe] is told which settings are
// of this drawing by the digest, and of this arc by centre, radius, ends and swing radius. Another cutter therefore
// makes another setting.
//
// A Picked is made from a plan, and a plan asks for a job, so it cannot be the job's: the job takes only the figures
// that stand in its file's place. An opening without an arc folds as it always did, and a program that is older than
// the field refuses the line by its number.
//
// # What is believed of a setting
//
// [Believe] takes δR and e of an accepted setting from its last sweep, by [indicator.Estimate.Own]: the readings'
// covariance of radius and centre together, and what this setting has alone. Whatever settings have in common is
// left out there and is a [Source] by its figure and limit, so that it cancels on one side of the metal and doubles
// across an S:
//
//   - the reach and the reference. Two reaches are two sources.
//   - leaning axes. Reckoned anew for each setting they made the bands at the rim's convex blends hold 98 % of 2000
//     parts.
//   - a cutter's diameter. Straights are believed where they are meant but for that, which is the same as
//     the arc's, and for how they are laid, which is each one's own.
//
// A dial's error is taken as each setting's own. That is on the safe side on one side of the metal, and not across
// an S.
//
// Where the arc was measured, its radius stands for setting and cutter together, κδr = κδR − δD/2. A bias that arcs
// have taught (BiasLimit above 0) stands for reach, reference and cutter. By points the centre is where the spindle
// stands, and the radius is believed by its tolerance.
//
// While little is set, the worst blend of [Situation.Steps] is often one whose doubt is large and whose step is 0.
//
// What the bands hold above 95 % comes of limits, which are bounded where a normal law is not, and of few readings.
// With a reach of ±0.010, doubled across an S and larger than all else, it is 97.3 %: of one rectangular part U =
// 1.96·u is the limit and more.
package part
