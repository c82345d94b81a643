package part

import (
	"fmt"
	"math"
	"slices"
)

// Mill is what the slides mill off between two steps of the order: what stands higher than Depth, beyond the floors that the cutter has
// cleared round Bosses. It is no element, and has a number of its own behind theirs. Bosses of one depth are milled round at once.
type Mill struct {
	N, Place int     // Place is the place of the order that it comes ahead of, from 0
	Depth    float64 // from the top of the stock, millimetres
	Bosses   []int
}

// mills finds where in an order the plate is milled off round its bosses: once they are cut, and before anything is cut deeper.
func (p *Plan) mills(order []int) (all []Mill) {
	highest := 0
	for i := range p.Lines {
		highest = max(highest, p.Lines[i].N)
	}
	for a := range p.Swings() {
		highest = max(highest, a.N)
	}
	for k, n := range order {
		a := p.arc(n)
		if a == nil || !a.ToStep || a.Depth == 0 || a.Cutter == 0 {
			continue
		}
		// What is still to come for an earlier boss of this depth is the first that is cut deeper behind this one too.
		i := slices.IndexFunc(all, func(m Mill) bool { return m.Place > k && math.Abs(m.Depth-a.Depth) < atDepth })
		if i < 0 {
			deeper := slices.IndexFunc(order[k+1:], func(m int) bool { return p.depth(m) > a.Depth+atDepth })
			if deeper < 0 {
				continue
			}
			i, all = len(all), append(all, Mill{Place: k + 1 + deeper, Depth: a.Depth})
		}
		all[i].Bosses = append(all[i].Bosses, n)
	}
	slices.SortStableFunc(all, func(a, b Mill) int { return a.Place - b.Place })
	for i := range all {
		all[i].N = highest + 1 + i
	}
	return all
}

// task is the milling as one of a plate's.
func (m *Mill) task() Task { return Task{N: m.N, Depth: m.Depth, Mill: m.Bosses} }

// Milled are the tasks that a milling goes round.
func (p *Plate) Milled(t *Task) (bosses []*Task) {
	for _, n := range t.Mill {
		if b := p.Task(n); b != nil {
			bosses = append(bosses, b)
		}
	}
	return bosses
}

// checkMill refuses a milling round what is not there, or has not been cut by then.
func (p *Plate) checkMill(i int) error {
	t := &p.Tasks[i]
	if len(t.Mill) == 0 {
		return nil
	}
	if !(t.Depth > 0) || t.Arc != nil || t.Setting != 0 || t.Slot {
		return fmt.Errorf("milling at a depth of %v mm, need a depth above 0, and no setting", t.Depth)
	}
	for _, n := range t.Mill {
		if !slices.ContainsFunc(p.Tasks[:i], func(o Task) bool { return o.N == n && len(o.Mill) == 0 }) {
			return fmt.Errorf("milling round element %d, need one that is cut before it", n)
		}
	}
	return nil
}
