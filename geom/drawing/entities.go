package drawing

import "strings"

// corner is one corner of a polyline as it is drawn.
type corner struct {
	x, y, z, bulge float64
	line           int
}

// entity is one entity as it is written, with the values of the group codes that matter.
type entity struct {
	kind   string // LINE, ARC, …: one of understood
	layer  string
	handle string
	block  string // of an INSERT, what it puts in place
	line   int
	paper  bool
	hidden bool
	wide   float64
	flags  int        // group code 70
	rows   int        // 71
	normal [3]float64 // 210, 220, 230
	// p are group codes 10 to 31 (start or centre, end), r 40 to 45 and 50, 51, see the getters' uses.
	p, q    [3]float64
	r       [6]float64
	angle   [2]float64
	corners []corner
}

// understood are the entities that are read. All others are counted.
var understood = map[string]bool{"LINE": true, "ARC": true, "CIRCLE": true, "LWPOLYLINE": true, "POLYLINE": true, "VERTEX": true,
	"INSERT": true}

// Flags of group code 70 of polylines and their vertices.
const (
	closedFlag   = 1
	splineFlag   = 4
	threeDFlag   = 8
	meshFlags    = 16 | 64
	controlPoint = 16
)

func newEntity(kind string, line int) entity {
	e := entity{kind: kind, line: line, normal: [3]float64{0, 0, 1}, layer: "0"}
	if kind == "INSERT" {
		e.r = [6]float64{0, 1, 1, 1, 0, 0} // scales of 1 where none is given
	}
	return e
}

// set takes one group code's value.
func (e *entity) set(t tag, n *names) (err error) {
	switch c := t.code; {
	case c == 5:
		e.handle = n.text(t.value)
	case c == 8:
		e.layer = n.text(t.value)
	case c == 2 && e.kind == "INSERT":
		e.block = n.text(t.value)
	case c == 60:
		v, err := t.whole()
		e.hidden = v == 1
		return err
	case c == 67:
		v, err := t.whole()
		e.paper = v == 1
		return err
	case c == 70:
		e.flags, err = t.whole()
	case c == 71:
		e.rows, err = t.whole()
	case e.kind == "LWPOLYLINE" && c != 210 && c != 220 && c != 230:
		return e.setCorner(t)
	default:
		if into := e.place(c); into != nil {
			*into, err = t.number()
		}
	}
	return err
}

// place is where a number of a group code belongs; nil for codes that do not matter.
func (e *entity) place(code int) *float64 {
	switch code {
	case 10, 20, 30:
		return &e.p[code/10-1]
	case 11, 21, 31:
		return &e.q[code/10-1]
	case 40, 41, 42, 43, 44, 45:
		return &e.r[code-40]
	case 50, 51:
		return &e.angle[code-50]
	case 210, 220, 230:
		return &e.normal[(code-210)/10]
	}
	return nil
}

// setCorner takes a group code of an LWPOLYLINE, whose corners follow one another.
func (e *entity) setCorner(t tag) error {
	var into *float64
	last := len(e.corners) - 1
	switch {
	case t.code == 10:
		e.corners = append(e.corners, corner{line: t.line - 1})
		into = &e.corners[last+1].x
	case t.code == 20 && last >= 0:
		into = &e.corners[last].y
	case t.code == 42 && last >= 0:
		into = &e.corners[last].bulge
	case t.code == 40, t.code == 41, t.code == 43:
		v, err := t.number()
		e.wide = max(e.wide, v)
		return err
	default:
		return nil
	}
	v, err := t.number()
	*into = v
	return err
}

// take adds a VERTEX to the POLYLINE it belongs to.
func (e *entity) take(v *entity) {
	if v.flags&controlPoint == 0 {
		e.corners = append(e.corners, corner{x: v.p[0], y: v.p[1], z: v.p[2], bulge: v.r[2], line: v.line})
		e.wide = max(e.wide, v.r[0], v.r[1])
	}
}

// same folds the case of a name: layers and blocks are the same whatever it is.
// SameName reports whether two names are of one layer, whatever the case of their letters.
func SameName(a, b string) bool { return same(a) == same(b) }

func same(name string) string { return strings.ToLower(name) }
