package record

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/geom"
)

// Text spells where one is: a line for each element, and what is changed for what comes now.
func (x Where) Text() string {
	if x.Brief {
		return x.NextWords()
	}
	rows := []string{fmt.Sprintf("%s: %d of %d done; lengths in %v", x.Part, x.Done, x.Of, x.Unit)}
	for i := range x.List {
		t := &x.List[i]
		rows = append(rows, fmt.Sprintf("  %-8s %s", t.Stands, x.row(t)))
	}
	if x.Ways != nil {
		rows = append(rows, x.Ways.Text())
	}
	return strings.Join(append(rows, x.NextWords()), "\n")
}

// Rows are the elements, a line each: how it stands first.
func (x *Where) Rows() (out []string) {
	for i := range x.List {
		t := &x.List[i]
		out = append(out, t.Stands+": "+x.row(t))
	}
	return out
}

// About is what there is to know of element n beside its plan: what is changed for it where it comes now, and what it was measured to.
func (x *Where) About(n int) (out []string) {
	i := slices.IndexFunc(x.List, func(t WhereTask) bool { return t.N == n })
	if i < 0 {
		return nil
	}
	if x.Next != nil && x.Next.N == n {
		out = append(out, x.NextWords())
	}
	if t := &x.List[i]; t.Measured != nil {
		out = append(out, strings.TrimPrefix(x.far(t), "; "))
	}
	return out
}

// ByHand reports whether element n is done by slide, and ticked off.
func (x *Where) ByHand(n int) bool {
	return slices.ContainsFunc(x.List, func(t WhereTask) bool { return t.N == n && t.By == bySlide })
}

// IsTicked reports whether element n has been ticked off.
func (x *Where) IsTicked(n int) bool {
	return slices.ContainsFunc(x.List, func(t WhereTask) bool { return t.N == n && t.By == bySlide && t.Stands == whereDone })
}

// IsDone reports whether element n is done, by swing or by slide.
func (x *Where) IsDone(n int) bool {
	return slices.ContainsFunc(x.List, func(t WhereTask) bool { return t.N == n && t.Stands == whereDone })
}

// row is the line of an element.
func (x *Where) row(t *WhereTask) string {
	out := fmt.Sprintf("%s %d%s", t.What, t.N, onLayer(t.Layer))
	if !t.Depth.Unknown() {
		out += ", depth " + x.length(t.Depth)
	}
	if t.By == bySlide {
		out += ", by slide"
		if len(t.Round) > 0 {
			out += ", round " + Numbers(t.Round)
		}
		if t.Why != "" {
			out += ": " + t.Why
		}
		return out + x.far(t)
	}
	out += fmt.Sprintf(", setting %d: swing radius %s", t.Setting, x.length(t.Swing))
	if !t.Cutter.Unknown() {
		out += ", cutter " + x.length(t.Cutter)
	}
	return out + fmt.Sprintf(", centre at %s, %s", x.length(t.Centre[0]), x.length(t.Centre[1])) + x.far(t)
}

// far is how far an element is, with what was measured.
func (x *Where) far(t *WhereTask) string {
	switch {
	case t.Measured != nil && t.Measured.U95.Unknown():
		return fmt.Sprintf("; %s, radius %s as measured%s", t.State, x.length(t.Measured.Value), behind(": ", t.Verdict))
	case t.Measured != nil:
		return fmt.Sprintf("; %s, radius %s%s", t.State, t.Measured.Text(x.Unit), behind(": ", t.Verdict))
	case t.Stands == whereDone, t.State == "begun", t.Stands == whereNow && t.State != "to do":
		return "; " + t.State
	}
	return ""
}

// behind is a word with what stands in front of it; nothing of none.
func behind(front, word string) string {
	if word == "" {
		return ""
	}
	return front + word
}

func (x *Where) length(v Number) string { return plain(v, x.Unit) }

// NextWords say what comes now, and what is changed for it.
func (x *Where) NextWords() string {
	n := x.Next
	if n == nil {
		return "the whole plate is done"
	}
	out := fmt.Sprintf("now %s %d", n.What, n.N)
	switch {
	case n.Why != "":
		return out + ": " + n.Why + "; tick it off once it is made another way"
	case n.Do != "":
		return out + ": " + n.Do + "; tick it off once it is done"
	case n.By == bySlide:
		return out + ", by slide: tick it off once it is cut"
	case n.Begun:
		return out + ": it is begun, and goes on"
	case n.SameSetting:
		return out + ": nothing is changed, it is set as the one before" + x.holeWords(n.Hole)
	}
	return out + ": " + strings.Join(x.changes(n), "; ") + x.holeWords(n.Hole)
}

// holeWords say which hole is about the centre by now; nothing where none has been made.
func (x *Where) holeWords(h *WhereHole) string {
	switch {
	case h == nil:
		return ""
	case h.Measured:
		return fmt.Sprintf("; where a hole is swept, that of arc %d is there now, radius %s as measured", h.N, x.length(h.Radius))
	}
	return fmt.Sprintf("; where a hole is swept, that of arc %d is there now, radius %s as drawn", h.N, x.length(h.Radius))
}

// changes are what is changed, in the order of the hand: cutter, then radius, then centre.
func (x *Where) changes(n *WhereNext) (out []string) {
	switch c := n.Cutter; {
	case c == nil:
		out = append(out, "the cutter out for the sweep, the same one in again behind it")
	case c.To > 0:
		out = append(out, "cutter "+x.length(c.To)+" in")
	}
	switch c := n.Swing; {
	case c == nil:
		out = append(out, "the swing radius stays")
	case c.From.Unknown():
		out = append(out, "swing radius "+x.length(c.To)+" by the offset slide")
	default:
		out = append(out, fmt.Sprintf("swing radius %s to %s: offset slide %s", x.length(c.From), x.length(c.To), x.signed(c.To-c.From)))
	}
	if len(n.Slides) == 0 {
		return append(out, "the centre stays")
	}
	var ways []string
	for _, s := range n.Slides {
		way := s.Slide
		if !s.Travel.Unknown() {
			way += " slide " + x.signed(s.Travel)
		}
		ways = append(ways, way)
	}
	if n.Slides[0].Travel.Unknown() {
		return append(out, "centre by "+strings.Join(ways, " and "))
	}
	return append(out, "centre: "+strings.Join(ways, ", "))
}

func (x *Where) signed(v Number) string {
	return geom.FormatSigned(float64(v), geom.Places(0, x.Unit))
}
