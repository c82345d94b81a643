// Package advice holds the decisions of a setting that need no state: when a sweep is enough and where its next
// station helps most, which slide goes by how much and under which needle, how sure one may be of where a wind has
// ended, and which statement would explain winds that went astray. It is given plain values and gives plain values
// back; lengths are millimetres, angles radians. It knows no set-up: what carries what, and what can be reached, it
// is told.
//
// # When a sweep closes
//
// From the fewest readings on it closes when all is inside, or when something is outside and every wind is known to
// half of half its tolerance. With the planned stations in, it closes when something is outside or all is inside;
// while that is undecided, further stations are asked for where they help most, up to twice the plan. Where not even
// that many could decide, and a wind is worth making, the wind comes first: to wind 18 µm home is quicker than to
// measure whether 20 is exceeded.
//
// Each look at the sweep takes its share of the risk, for to stop as soon as it looks right is to test several times.
// "Outside" is guarded like "inside": left alone it stopped just those sweeps that had strayed, and their intervals
// held 88 to 95 % at the limit.
//
// # What is wound
//
// Winds under the needle are planned from what is known now, not from the sweep alone. After every wind the circle is
// moved, and the reading behind it is one more observation (a linear Gaussian update). So a slide that stopped beside
// its goal moves the goals of those behind it; one that a long wind of the others has carried along, across a
// direction that is set by eye, is brought in once more; and the next sweep has a band to judge its first readings
// by. That sweep is fitted alone: what confirms must not lean on what it is to confirm.
//
// # Coarse starts
//
// A station whose needle is beyond the dial says on which side: the next ones are chosen by that ([Search]). Behind such a sweep,
// and the long winds that it asks for, the needle is read at up to two places before slides are wound again ([Between]).
//
// # Cross slides
//
// They are solved as a pair ([Cross]). A direction that nothing turns is exactly (1, 0) or (0, 1), so that the
// arithmetic, and with it every journal written before directions were learnt, comes out bit for bit as it did. A
// journal holds how far a slide is askew of its name: one without the field means what it always meant.
//
// # What is stated wrong
//
// Where the signs are checked, the fault is the one statement that explains all checks that disagree, and the newest
// check of a slide counts. Where they are not, the next sweep shows it; that is computed anew each time, and no
// event. Several statements may be named, for a ring that is read the other way round and a slide with a left-hand
// screw can look the same. What goes astray by less than 0.06 mm shows in nothing yet, and does no harm yet.
package advice
