package part

import (
	"cmp"
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
)

// Statement says of an element of a closed path where its metal is, by more than one voice; nothing of most.
type Statement func(from drawing.Source, e geom.Element) []Said

// Drawn is the outline as it was read, for the plan: each element with its layer and where it comes from, and what
// the drawing and others say of its metal, and the drawing of its depth.
func Drawn(o *drawing.Outline, others ...Statement) Outline {
	return Outline{Loops: pieces(o, o.Loops, append([]Statement{byDrawing}, others...)), Open: pieces(o, o.Open, nil)}
}

func pieces(o *drawing.Outline, paths []drawing.Path, say []Statement) [][]Piece {
	out := make([][]Piece, len(paths))
	for i, p := range paths {
		for k, e := range p.Chain {
			from := p.From[k]
			piece := Piece{Element: e, Layer: from.Layer, Source: origin(from), Aside: from.Aside, Slot: from.Slot,
				Depth: depthByDrawing(from, o.Unit)}
			for _, s := range say {
				piece.Metal = append(piece.Metal, s(from, e)...)
			}
			out[i] = append(out[i], piece)
		}
	}
	return out
}

// byDrawing is what the drawing itself says.
func byDrawing(from drawing.Source, _ geom.Element) []Said {
	line := cmp.Or(from.Says, from.Line)
	switch from.Metal {
	case drawing.MetalInside:
		return []Said{{Side: Inside, By: fmt.Sprintf("line %d of the drawing says inside", line)}}
	case drawing.MetalOutside:
		return []Said{{Side: Outside, By: fmt.Sprintf("line %d of the drawing says outside", line)}}
	case drawing.Unsaid:
	}
	return nil
}

// depthByDrawing is what the drawing says of an element's depth, told in the drawing's unit.
func depthByDrawing(from drawing.Source, u geom.Unit) []SaidDepth {
	if from.Depth == 0 {
		return nil
	}
	return []SaidDepth{{from.Depth, fmt.Sprintf("line %d of the drawing says a depth of %v %v", cmp.Or(from.DepthSays, from.Line),
		geom.FormatFixed(u.From(from.Depth), geom.Places(0, u)), u)}}
}

// origin says where an element comes from: "LWPOLYLINE 2A, line 120".
func origin(s drawing.Source) string {
	out := s.Entity
	switch {
	case strings.HasPrefix(s.Handle, s.Entity): // touched points that were called so
		out = s.Handle
	case s.Handle != "":
		out += " " + s.Handle
	}
	if s.Block != "" {
		out += " in block " + s.Block
	}
	return fmt.Sprintf("%s, line %d", out, s.Line)
}
