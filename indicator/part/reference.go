package part

import "example.org/trammel/indicator/job"

// holed reports whether an arc that is swung makes a hole: it takes away what was swept in the one before it.
func holed(a *Arc) bool { return a.Full() && a.Side == Outside && a.Swing > 0 }

// holes are the arcs that make a hole about whose centre others are swung: the one that is there before it may be what is swept for
// them.
func (p *Plan) holes() map[int]bool {
	out, all := map[int]bool{}, newNearby(job.Concentric)
	for a := range p.Swings() {
		if a.Swing > 0 {
			all.add(a.N, a.Centre.X, a.Centre.Y)
		}
	}
	for a := range p.Swings() {
		if !holed(a) {
			continue
		}
		for n := range all.each(a.Centre.X, a.Centre.Y) {
			if n != a.N && p.arc(n).Centre.Sub(a.Centre).Norm() <= job.Concentric {
				out[a.N] = true
				break
			}
		}
	}
	return out
}

// Taken is, at each place of the order, the number of the hole that has been made last about the centre of what is swung there: by then
// that is the hole that can be swept. 0 where none has.
func (p *Plan) Taken() []int {
	out, made := make([]int, len(p.Order)), newNearby(job.Concentric)
	for place, s := range p.Order {
		at := p.arc(s.N)
		if at == nil || at.Swing == 0 {
			continue
		}
		last := -1
		for k := range made.each(at.Centre.X, at.Centre.Y) {
			if k > last && p.arc(p.Order[k].N).Centre.Sub(at.Centre).Norm() <= job.Concentric {
				last = k
			}
		}
		if last >= 0 {
			out[place] = p.Order[last].N
		}
		if holed(at) {
			made.add(place, at.Centre.X, at.Centre.Y)
		}
	}
	return out
}

// Taken are the holes about a task's centre that come before it in the plate, in their order: the one made last is what can be swept
// there.
func (p *Plate) Taken(t *Task) (holes []*Task) {
	if t.Arc == nil {
		return nil
	}
	for i := range p.Tasks {
		o := &p.Tasks[i]
		switch {
		case o.N == t.N:
			return holes
		case o.Arc != nil && o.Arc.full() && o.Arc.Side == Outside.String() && o.Arc.Centre.Sub(t.Arc.Centre).Norm() <= job.Concentric:
			holes = append(holes, o)
		}
	}
	return holes
}
