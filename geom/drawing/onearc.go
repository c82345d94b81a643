package drawing

import (
	"math"
	"slices"

	"example.org/trammel/geom"
)

// about is how far the centres and radii of arcs that are taken as one may lie apart, millimetres:
// what is left of them where corners are written with six decimals.
const about = 1e-4

// runsOn reports whether b goes on where a ends, about the same centre and the same way; by is how
// far their centres or radii lie apart.
func runsOn(a, b geom.Element) (by float64, ok bool) {
	if !a.Curved() || !b.Curved() || a.Full() || b.Full() || (a.Turn > 0) != (b.Turn > 0) {
		return 0, false
	}
	by = max(a.Centre.Sub(b.Centre).Norm(), math.Abs(a.Radius-b.Radius))
	whole := math.Abs(float64(a.Turn + b.Turn))
	return by, by <= about && b.Start.Sub(a.End).Norm() <= about && whole <= 2*math.Pi+1e-9
}

// oneArc takes arcs that run on into each other as one, with the centre and radius of the longest.
func (p *piece) oneArc(told *tally) {
	if p.closed && len(p.Chain) > 1 { // begin where nothing runs on
		for i := range p.Chain {
			before := (i + len(p.Chain) - 1) % len(p.Chain)
			if _, on := runsOn(p.Chain[before], p.Chain[i]); !on || p.From[before].Aside != p.From[i].Aside {
				p.rotate(i)
				break
			}
		}
	}
	chain, from := p.Chain[:0:0], p.From[:0:0]
	for i := 0; i < len(p.Chain); {
		e := p.Chain[i]
		longest, n, off := e, 1, 0.0
		for ; i+n < len(p.Chain); n++ {
			next := p.Chain[i+n]
			by, on := runsOn(e, next)
			if !on || p.From[i].Aside != p.From[i+n].Aside {
				break
			}
			off = max(off, by)
			if next.Length() > longest.Length() {
				longest = next
			}
			e.Turn, e.End = e.Turn+next.Turn, next.End
		}
		if n > 1 {
			e.Centre, e.Radius = longest.Centre, longest.Radius
			if math.Abs(float64(e.Turn)) > 2*math.Pi-1e-9 {
				e.Turn, e.End = geom.Bearing(math.Copysign(2*math.Pi, float64(e.Turn))), e.Start
				p.closed = p.closed || n == len(p.Chain)
			}
			told.tell(Note{Kind: OneArc, Layer: p.From[i].Layer, Line: p.From[i].Line, Count: n, At: e.Centre, Size: off})
		}
		chain, from = append(chain, e), append(from, p.From[i])
		i += n
	}
	p.Chain, p.From = chain, from
}

// rotate makes element i of a closed piece its first.
func (p *piece) rotate(i int) {
	p.Chain = slices.Concat(p.Chain[i:], p.Chain[:i])
	p.From = slices.Concat(p.From[i:], p.From[:i])
}
