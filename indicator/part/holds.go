package part

import "slices"

// Holding are the elements that still hold a part behind a place of the order, from 0: of each outermost loop that is begun and not
// cut all round by then, what is left of it.
func (p *Plan) Holding(place int) (still []int) {
	for _, rim := range p.outer {
		var left []int
		for _, s := range p.Order[place+1:] {
			if slices.Contains(rim, s.N) {
				left = append(left, s.N)
			}
		}
		if len(left) < len(rim) {
			still = append(still, left...)
		}
	}
	slices.Sort(still)
	return still
}
