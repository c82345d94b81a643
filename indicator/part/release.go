package part

// Release is a warning: with element N, the one at place Place of the order (from 0), the outermost
// loop that holds the part is cut all round, and the part comes loose.
type Release struct {
	N, Place int
	Left     []int   // elements of that part which would still have to be cut on the loose part
	Depth    float64 // of the pass that lets it go, 0: nobody says
}

// parts lists, for each outermost loop that is cut all round, its own elements and all that lies in it.
func (w *work) parts() {
	rims, wholes := make([][]int, len(w.closed)), make([][]int, len(w.closed))
	for k := range w.elements {
		e := &w.elements[k]
		c := &w.chains[e.chain]
		switch {
		case e.n == 0 || w.inSingle(k):
		case c.open:
			for _, i := range w.around(e.middle) {
				wholes[i] = append(wholes[i], e.n)
			}
		default:
			rims[e.chain] = append(rims[e.chain], e.n)
			wholes[c.within] = append(wholes[c.within], e.n)
		}
	}
	for i := range w.closed {
		if c := &w.chains[i]; c.depth == 0 && c.side != Outside && w.cutWhole(c) {
			w.part.outer, w.part.loops = append(w.part.outer, rims[i]), append(w.part.loops, wholes[i])
		}
	}
}

// releases finds where in an order each part comes loose.
func (p *Plan) releases(order []int) []Release {
	if len(p.outer) == 0 {
		return nil
	}
	out := make([]Release, len(p.outer))
	rim := p.rims()
	for place, n := range order {
		if i, ok := rim[n]; ok {
			out[i] = Release{N: n, Place: place, Depth: p.depth(n)}
		}
	}
	in := map[int][]int{} // of each element, the loops that it lies in
	for i, all := range p.loops {
		for _, n := range all {
			in[n] = append(in[n], i)
		}
	}
	for place, n := range order {
		for _, i := range in[n] {
			if place > out[i].Place {
				out[i].Left = append(out[i].Left, n)
			}
		}
	}
	return out
}

// rims are the outermost loops that let the part go, by the numbers of their own elements.
func (p *Plan) rims() map[int]int {
	out := map[int]int{}
	for i, rim := range p.outer {
		for _, n := range rim {
			out[n] = i
		}
	}
	return out
}
