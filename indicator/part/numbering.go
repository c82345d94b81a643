package part

import "slices"

// number numbers the settings in the order in which they are cut, from 1: what the hand does first is setting 1, on paper and on the
// screen. One that is come back to keeps its number. The receiver's own lists are put in its place, for another plan may share them.
func (p *Plan) number(order []int) {
	was, turn, place := p.Groups, []int{}, map[int]int{} // of each group from 1; 0 of what no setting makes
	for _, n := range order {
		if a := p.arc(n); a != nil && a.Group > 0 && place[a.Group] == 0 {
			turn = append(turn, a.Group)
			place[a.Group] = len(turn)
		}
	}
	p.Groups = make([]Group, len(turn))
	for i, old := range turn {
		p.Groups[i] = was[old-1]
		p.Groups[i].N = i + 1
	}
	p.Arcs, p.Slots = slices.Clone(p.Arcs), slices.Clone(p.Slots)
	for a := range p.Swings() {
		a.Group = place[a.Group]
	}
}

// Number is which setting of the swing radius serves a task, from 1 in the order in which the plate is cut, and 0 of what no swing
// makes. Plates that journals of old keep have numbered their settings otherwise.
func (p *Plate) Number(t *Task) int {
	var turn []int
	for i := range p.Tasks {
		if k := p.Tasks[i].Setting; k > 0 && !slices.Contains(turn, k) {
			turn = append(turn, k)
		}
	}
	return 1 + slices.Index(turn, t.Setting)
}
