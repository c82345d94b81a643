package geom

// LeastDepth and MostDepth bound how deep below the top of its stock anything may be said to be cut, millimetres: less than the first
// is no cut, and no mill reaches the other (common practice, no source).
const LeastDepth, MostDepth = 1e-3, 1e4

// DepthFits reports whether anything may be cut so deep, millimetres.
func DepthFits(mm float64) bool { return mm >= LeastDepth && mm <= MostDepth }
