// Package gauge makes readings of what an indicator with a cable sends: bytes to lines, lines to values by a pattern, values to
// a steady mean. It is pure: bytes, values and the times at which they came are given to it.
//
// # Nothing half read is a reading
//
// Lines come over wires that are plugged in midway and beside motors. A line with bytes in it that are no text, one that is
// longer than [MaxLine], one whose end never came, and the first one of a stream that was joined midway are counted and passed
// over: of a figure with a digit missing the rest is a figure too.
//
// # When a stream stands still
//
// The last so many samples must lie within a range, with room for how much they tremble: see [Steady].
package gauge
