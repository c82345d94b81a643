package drawing

import (
	"cmp"
	"math"
	"slices"

	"example.org/trammel/geom"
)

// An end of a piece has the number 2·piece, or one more where it is the last element's end.

func (p *piece) end(last bool) geom.Point {
	if last {
		return p.Chain[len(p.Chain)-1].End
	}
	return p.Chain[0].Start
}

// cell is a square of a grid.
type cell [2]int64

func cellOf(p geom.Point, size float64) cell {
	return cell{int64(math.Floor(p.X / size)), int64(math.Floor(p.Y / size))}
}

// crowd is the most ends of one cell that others are compared with, and the most neighbours that one end
// has, so that a heap of ends takes neither for ever nor all memory.
const crowd = 8

// near is how many gaps apart ends may lie and still be told of.
const near = 10

// joiner finds which ends belong together.
type joiner struct {
	pieces []piece
	mate   []int // by end; −1 while free, barred for one that meets several
	told   *tally
}

const (
	free   = -1
	barred = -2
)

func (j *joiner) at(end int) geom.Point { return j.pieces[end/2].end(end%2 == 1) }

func (j *joiner) layer(end int) string {
	p := &j.pieces[end/2]
	if end%2 == 1 {
		return p.From[len(p.From)-1].Layer
	}
	return p.From[0].Layer
}

// pairUp mates ends: first those that meet, then the nearest within the gap.
func (j *joiner) pairUp(gap float64) {
	j.mate = make([]int, 2*len(j.pieces))
	for i := range j.mate {
		if j.mate[i] = free; j.pieces[i/2].closed {
			j.mate[i] = barred
		}
	}
	j.meet(j.within(meets))
	for _, n := range j.within(near * gap) {
		switch {
		case j.mate[n.a] != free || j.mate[n.b] != free:
		case n.apart <= gap:
			j.mate[n.a], j.mate[n.b] = n.b, n.a
			if n.apart > meets {
				j.told.tell(Note{Kind: Joined, Layer: j.layer(n.a), At: middle(j.at(n.a), j.at(n.b)), Size: n.apart})
			}
		default:
			j.told.tell(Note{Kind: NearMiss, Layer: j.layer(n.a), At: middle(j.at(n.a), j.at(n.b)), Size: n.apart})
			j.mate[n.a], j.mate[n.b] = barred, barred
		}
	}
}

func middle(a, b geom.Point) geom.Point { return a.Add(b).Times(0.5) }

// neighbours are two free ends.
type neighbours struct {
	a, b  int
	apart float64
}

func nearer(x, y neighbours) int {
	return cmp.Or(cmp.Compare(x.apart, y.apart), cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
}

// length is the length along a piece, mm.
func (p *piece) length() (sum float64) {
	for _, e := range p.Chain {
		sum += e.Length()
	}
	return sum
}

// within lists pairs of free ends at most reach apart, the nearest first. A piece shorter than a few
// reaches does not meet itself.
func (j *joiner) within(reach float64) []neighbours {
	grid := map[cell][]int{}
	var out []neighbours
	for end := range j.mate {
		if j.mate[end] != free {
			continue
		}
		p, home, first := j.at(end), cellOf(j.at(end), reach), len(out)
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				for _, other := range grid[cell{home[0] + dx, home[1] + dy}] {
					if apart := p.Sub(j.at(other)).Norm(); apart <= reach && (other/2 != end/2 || j.pieces[end/2].length() > 4*reach) {
						out = append(out, neighbours{other, end, apart})
					}
				}
			}
		}
		if len(out)-first > crowd {
			slices.SortFunc(out[first:], nearer)
			out = out[:first+crowd]
		}
		if len(grid[home]) < crowd {
			grid[home] = append(grid[home], end)
		}
	}
	slices.SortFunc(out, nearer)
	return out
}

// meet mates the ends of places where two meet. Where more do, two of one layer belong together, and
// two that are then left; anything else is open, and told: to guess would make a loop that nobody drew.
func (j *joiner) meet(pairs []neighbours) {
	group := map[int]int{} // union-find over ends
	var root func(int) int
	root = func(e int) int {
		up, ok := group[e]
		if !ok || up == e {
			return e
		}
		r := root(up)
		group[e] = r
		return r
	}
	for _, n := range pairs {
		group[root(n.b)] = root(n.a)
	}
	places, listed := map[int][]int{}, make([]bool, len(j.mate))
	var order []int
	for _, n := range pairs {
		for _, end := range []int{n.a, n.b} {
			r := root(end)
			if places[r] == nil {
				order = append(order, r)
			}
			if !listed[end] {
				listed[end] = true
				places[r] = append(places[r], end)
			}
		}
	}
	for _, r := range order {
		j.sortOut(places[r])
	}
}

func (j *joiner) sortOut(ends []int) {
	byLayer := map[string][]int{}
	for _, end := range ends {
		byLayer[j.layer(end)] = append(byLayer[j.layer(end)], end)
	}
	var left []int
	for _, end := range ends {
		switch mates := byLayer[j.layer(end)]; {
		case len(mates) != 2:
			left = append(left, end)
		case mates[0] == end:
			j.mate[mates[0]], j.mate[mates[1]] = mates[1], mates[0]
		}
	}
	switch len(left) {
	case 0:
	case 1:
		j.mate[left[0]] = barred
	case 2:
		j.mate[left[0]], j.mate[left[1]] = left[1], left[0]
	default:
		for _, end := range left {
			j.mate[end] = barred
		}
		j.told.tell(Note{Kind: Branch, Layer: j.layer(left[0]), Count: len(ends), At: j.at(left[0])})
	}
}

// chains strings the pieces together along their mates.
func (j *joiner) chains() (out []piece) {
	used := make([]bool, len(j.pieces))
	string := func(first int) {
		var c piece
		end := first // the end at which the piece is entered
		for {
			i := end / 2
			if used[i] {
				c.closed = true
				break
			}
			used[i] = true
			c.append(&j.pieces[i], end%2 == 1)
			next := j.mate[end^1]
			if c.closed = j.pieces[i].closed; next < 0 || c.closed {
				break
			}
			end = next
		}
		out = append(out, c)
	}
	for end := range j.mate { // open chains from their ends, then what goes round
		if !used[end/2] && j.mate[end] < 0 {
			string(end)
		}
	}
	for i := range j.pieces {
		if !used[i] {
			string(2 * i)
		}
	}
	return out
}

// append adds another piece, run through from its end if back.
func (p *piece) append(other *piece, back bool) {
	from := slices.Clone(other.From)
	chain := other.Chain
	if back {
		chain = chain.Reversed()
		slices.Reverse(from)
	}
	p.Chain, p.From = append(p.Chain, chain...), append(p.From, from...)
}

// needSome returns an *[EmptyError] for an outline of which nothing is wanted.
func (out *Outline) needSome() error {
	for _, p := range slices.Concat(out.Loops, out.Open) {
		if slices.ContainsFunc(p.From, func(s Source) bool { return !s.Aside }) {
			return nil
		}
	}
	return &EmptyError{Notes: out.Notes}
}

// assemble makes the outline of the pieces. Of an element that is drawn twice, once where it is wanted, that
// one stays.
func (out *Outline) assemble(pieces []piece, opt Options, told *tally) error {
	slices.SortStableFunc(pieces, func(a, b piece) int {
		switch {
		case a.From[0].Aside == b.From[0].Aside:
			return 0
		case a.From[0].Aside:
			return 1
		}
		return -1
	})
	pieces, err := once(pieces, told)
	if err != nil {
		return err
	}
	j := joiner{pieces: pieces, told: told}
	j.pairUp(opt.gap())
	for _, c := range j.chains() {
		c.oneArc(told)
		if limit := opt.departure(); limit > 0 {
			c.recognise(limit, told)
			c.oneArc(told)
		}
		if c.closed {
			out.Loops = append(out.Loops, c.Path)
		} else {
			out.Open = append(out.Open, c.Path)
		}
	}
	return nil
}
