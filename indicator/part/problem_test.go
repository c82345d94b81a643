package part

import (
	"fmt"
	"strings"
	"testing"

	"example.org/trammel/geom"
)

// Every kind of problem has a name of its own and words that give every figure of the problem they name, with its
// unit: a figure shows in the words or the words do not change with it.
func TestEveryKindHasWords(t *testing.T) {
	names := map[string]Kind{}
	for k := range kindsInAll {
		if other, twice := names[k.String()]; k.String() == "" || twice {
			t.Errorf("kind %d is called %q, as is %d", k, k, other)
		}
		names[k.String()] = k
		p := Problem{Kind: k, N: 31, Other: 32, At: geom.Point{X: 41, Y: 43}, Size: 47, Need: 53, Cutter: 59,
			Names: [2]string{"", "the boss"}, Layer: "rim"}
		if k == SideUnknown {
			p.Names[0] = "element 31"
		}
		text := p.Text(geom.Millimetre)
		if !strings.Contains(text, "31") && k != Unproven {
			t.Errorf("%v: %q does not say which element", k, text)
		}
		for what, change := range map[string]func(*Problem){"size": func(p *Problem) { p.Size++ }, "need": func(p *Problem) { p.Need++ },
			"cutter": func(p *Problem) { p.Cutter++ }} {
			q := p
			if change(&q); q.Text(geom.Millimetre) == text {
				continue
			}
			v := map[string]float64{"size": p.Size, "need": p.Need, "cutter": p.Cutter}[what]
			want := map[Quantity]string{Length: fmt.Sprintf("%.3f mm", v), Angle: fmt.Sprintf("%.2f°", geom.Bearing(v).Degrees()),
				Count: fmt.Sprintf("%.0f settings", v)}[k.Size()]
			if !strings.Contains(text, want) {
				t.Errorf("%v: %q, want its %s %s", k, text, what, want)
			}
		}
	}
}
