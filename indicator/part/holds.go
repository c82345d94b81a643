package part

import "slices"

// held is a rim that is cut at more than one place of the order: the places, and what is cut there.
type held struct{ places, numbers []int }

// hold finds the rims that may hold a part while an order is cut.
func (p *Plan) hold(order []int) {
	rims, rim := make([]held, len(p.outer)), p.rims()
	for place, n := range order {
		if i, ok := rim[n]; ok {
			rims[i].places, rims[i].numbers = append(rims[i].places, place), append(rims[i].numbers, n)
		}
	}
	p.held = slices.DeleteFunc(rims, func(h held) bool { return len(h.places) < 2 })
}

// Holding are the elements that still hold a part behind a place of the order, from 0: of each outermost loop that is begun and not
// cut all round by then, what is left of it.
func (p *Plan) Holding(place int) (still []int) {
	for _, h := range p.held {
		if cut, on := slices.BinarySearch(h.places, place); on || cut > 0 {
			if on {
				cut++
			}
			still = append(still, h.numbers[cut:]...)
		}
	}
	slices.Sort(still)
	return still
}
