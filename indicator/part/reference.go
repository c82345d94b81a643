package part

import "example.org/trammel/indicator/job"

// holed reports whether an arc that is swung makes a hole: it takes away what was swept in the one before it.
func holed(a *Arc) bool { return a.Full() && a.Side == Outside && a.Swing > 0 }

// hole reports whether an arc makes a hole about whose centre others are swung: the one that is there before it may be what is swept
// for them.
func (p *Plan) hole(a *Arc) bool {
	if !holed(a) {
		return false
	}
	for b := range p.Swings() {
		if b.N != a.N && b.Swing > 0 && b.Centre.Sub(a.Centre).Norm() <= job.Concentric {
			return true
		}
	}
	return false
}

// Taken is the hole that has been made last about the centre of what is swung at a place of the order, from 0: by then that is the hole
// that can be swept there. Nil where none has.
func (p *Plan) Taken(place int) (hole *Arc) {
	at := p.arc(p.Order[place].N)
	if at == nil || at.Swing == 0 {
		return nil
	}
	for _, s := range p.Order[:place] {
		if a := p.arc(s.N); a != nil && holed(a) && a.Centre.Sub(at.Centre).Norm() <= job.Concentric {
			hole = a
		}
	}
	return hole
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
