package part

import "slices"

// Release is a warning: with element N, the one at place Place of the order (from 0), the outermost
// loop that holds the part is cut all round, and the part comes loose.
type Release struct {
	N, Place int
	Left     []int   // elements of that part which would still have to be cut on the loose part
	Depth    float64 // of the pass that lets it go, 0: nobody says
}

// parts lists, for each outermost loop that is cut all round, its own elements and all that lies in it.
func (w *work) parts() {
	for i := range w.closed {
		if c := &w.chains[i]; c.depth > 0 || c.side == Outside || !w.cutWhole(c) {
			continue
		}
		var whole, rim []int
		for k := range w.elements {
			e := &w.elements[k]
			c := &w.chains[e.chain]
			switch {
			case e.n == 0 || w.inSingle(k):
				continue
			case e.chain == i:
				rim = append(rim, e.n)
			case !c.open && c.within == i, c.open && w.closed[i].Holds(e.middle):
			default:
				continue
			}
			whole = append(whole, e.n)
		}
		w.part.outer, w.part.loops = append(w.part.outer, rim), append(w.part.loops, whole)
	}
}

// releases finds where in an order each part comes loose.
func (p *Plan) releases(order []int) []Release {
	var out []Release
	for i, rim := range p.outer {
		var r Release
		for place, n := range order {
			if slices.Contains(rim, n) {
				r = Release{N: n, Place: place, Depth: p.depth(n)}
			}
		}
		for _, n := range order[r.Place+1:] {
			if slices.Contains(p.loops[i], n) {
				r.Left = append(r.Left, n)
			}
		}
		out = append(out, r)
	}
	return out
}
