// Package fit holds the least-squares circle fits: what a ring of indicator readings says of
// the circle that was touched, and how sure it is of it.
//
// # The exact model, not the cosine
//
// The usual m ≈ a + e·cos(θ − φ) is short by e²/4ρ in the radius: 2.5 µm for 0.5 mm on a radius of 25, and tens of
// µm on a pin. Gauss–Newton on the exact distance ([Model.Fit]) costs two or three steps more.
//
// # The arithmetic of a step
//
// Normal equations square the condition number, which an arc of 5° cannot afford. Modified Gram–Schmidt on three
// columns, the readings being a fourth, does not. With the level's column first it takes the mean away, which leaves
// more digits still: it is held to exact rational solutions down to 1°. Its sums run side by side, where rotations
// would wait for each other's roots. Sine and cosine are taken once a station, and the root of a reading's residual
// serves its row too.
//
// Every product is rounded on its own (float64(a*b)), so that amd64 and arm64 do not fuse it differently. The same bits
// on both still cannot be promised, the digits that are shown can.
package fit
