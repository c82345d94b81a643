package part

import (
	"math"
)

// rank is what an element is sorted by.
type rank struct {
	n      int
	level  float64 // the least depth in its setting, or of the straight; 0 unless somebody says depths
	floor  float64 // its own
	turn   int     // the first straight that the work is turned alike for; 0 for what is cut as it lies
	late   int     // 0 arcs, 1 those that no cutter can do and straights, 2 what frees the part
	rim    bool    // in its setting is an arc of an outermost loop, which holds the part
	only   bool    // and none that lies inside one
	takes  bool    // in its setting is a hole about whose centre other arcs lie: it may be what is swept for them
	big    bool    // no small boss: of the whole setting
	swing  float64 // of the setting
	group  int
	own    bool // of an outermost loop, itself
	centre int  // within the setting
	hole   bool // it is a hole that its setting takes
	first  bool // a slot's centre line
	cutter float64
}

// turnings are, of each straight that the work is turned for, the number of the first one that it is turned alike for; of others 0.
func (p *Plan) turnings() map[int]int {
	out, alike := map[int]int{}, newNearby(1e-9)
	for i := range p.Lines {
		l := &p.Lines[i]
		if !l.Lay.Turned || p.rotary != nil {
			continue
		}
		for _, k := range alike.of(float64(l.Lay.Turn)) {
			if m := &p.Lines[k]; math.Abs(float64(m.Lay.Turn-l.Lay.Turn)) <= 1e-9 {
				out[l.N] = m.N
				break
			}
		}
		if out[l.N] == 0 {
			out[l.N] = l.N
		}
		alike.add(i, float64(l.Lay.Turn))
	}
	return out
}

// ranks gathers what the elements are sorted by.
func (w *work) ranks() []rank {
	p := w.part
	straight := make([]bool, len(w.chains)) // the chain has a straight
	for i := range w.elements {
		if !w.elements[i].Curved() {
			straight[w.elements[i].chain] = true
		}
	}
	by := map[int]int{}
	for i := range w.elements {
		by[w.elements[i].n] = i
	}
	outermost := func(n int) bool {
		c := &w.chains[w.elements[by[n]].chain]
		return !c.open && c.depth == 0 && c.side == Inside
	}
	largest := 0.0
	for _, a := range p.Arcs {
		largest = max(largest, a.Radius)
	}
	holes, settings := p.holes(), make([]rank, len(p.Groups))
	centre := map[int]int{}              // of each arc, within its setting
	outer := make([]bool, len(p.Groups)) // in the setting is an arc of an outermost loop that has no straights to free the part
	for k, g := range p.Groups {
		for at, arcs := range g.Centres {
			for _, n := range arcs {
				centre[n] = at
			}
		}
		s := rank{group: k + 1, swing: g.Swing, big: true, only: true, level: math.Inf(1)}
		for _, m := range g.Arcs {
			b := p.arc(m)
			s.level = min(s.level, w.depthRank(by[m]))
			s.big = s.big && !(b.Side == Inside && b.Radius < bossShare*largest)
			rim := outermost(m)
			s.rim, s.only, s.takes = s.rim || rim, s.only && rim, s.takes || holes[m]
			outer[k] = outer[k] || rim && !straight[w.elements[by[m]].chain]
		}
		settings[k] = s
	}
	turns := p.turnings()
	var ranks []rank
	for i := range w.elements {
		n := w.elements[i].n
		if n == 0 || w.inSingle(i) {
			continue
		}
		r := rank{late: 1, level: w.depthRank(i)}
		if a := p.arc(n); a != nil && a.Group > 0 {
			if r = settings[a.Group-1]; outer[a.Group-1] {
				r.late = 2 // after the straights of the loops inside
			}
			r.cutter, r.centre, r.hole = a.Cutter, centre[n], holes[n]
		}
		if r.n, r.own = n, outermost(n); r.own && r.group == 0 {
			r.late = 2
		}
		r.first, r.floor, r.turn = w.elements[i].centreLine, w.depthRank(i), turns[n]
		ranks = append(ranks, r)
	}
	return ranks
}
