package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/practice"
)

// drawnPlate is a drawing by chance: an outline with blended corners, now and then with an arc in it, left open or closed, holes and
// slots that lie in it, beside it or across it.
func drawnPlate(chance *rand.Rand) string {
	var b strings.Builder
	between := func(a, z float64) float64 { return math.Round((a+(z-a)*chance.Float64())*100) / 100 }
	closed, corners := chance.IntN(4) > 0, 3+chance.IntN(4)
	fmt.Fprintf(&b, "unit = \"mm\"\nlayer = \"rim\"\n\n[[path]]\nclosed = %v\nsteps = [\n", closed)
	for i := range corners {
		angle := 2 * math.Pi * (float64(i) + 0.5*chance.Float64()) / float64(corners)
		far := between(30, 60)
		blend := fmt.Sprintf(", blend = %v", between(3, 14))
		if !closed && (i == 0 || i == corners-1) {
			blend = ""
		}
		fmt.Fprintf(&b, "  { at = [%.2f, %.2f]%s },\n", far*math.Cos(angle), far*math.Sin(angle), blend)
	}
	b.WriteString("]\n")
	for range 1 + chance.IntN(3) {
		metal := []string{"", "", "metal = \"inside\"\n", "metal = \"outside\"\n"}[chance.IntN(4)]
		fmt.Fprintf(&b, "\n[[circle]]\nlayer = \"%s\"\ncentre = [%v, %v]\nradius = %v\n%s", []string{"boss", "bore"}[chance.IntN(2)],
			between(-15, 15), between(-15, 15), between(3, 14), metal)
	}
	if chance.IntN(2) == 0 {
		from := between(0, 300)
		fmt.Fprintf(&b, "\n[[slot]]\nlayer = \"slot\"\ncentre = [%v, %v]\nradius = %v\nwidth = %v\nfrom = %v\nto = %v\n", between(-4, 4),
			between(-4, 4), between(12, 30), between(5, 9), from, from+between(20, 120))
	}
	return b.String()
}

// flagsByChance are flags by chance.
func flagsByChance(chance *rand.Rand, open bool, machine, table string) (flags []string) {
	for _, c := range [][]string{{"--cutter", "6"}, {"--cutter", "10"}, {"--cutter", "4"}, {"--cutter", "16"}} {
		if chance.IntN(2) == 0 {
			flags = append(flags, c...)
		}
	}
	for _, c := range [][]string{{"--depth", "8", "--step", "2.5"}, {"--left-hand"}, {"--machine", machine}, {"--machine", table},
		{"--table", "90"}, {"--travel", "15,60"}, {"--datum", "10,-5"}, {"--unit", "in"},
		{"--layer", "rim"}, {"--let-pass", "0.05"}} {
		if chance.IntN(4) == 0 {
			flags = append(flags, c...)
		}
	}
	if open {
		flags = append(flags, "--side", []string{"inside", "outside", "on"}[chance.IntN(3)])
	}
	return flags
}

// What is told of a hundred plates, drawn and planned by chance, is what was told of them before, refusals too.
func TestPlansAreToldAsBefore(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	place := func(name string, text []byte) string {
		path := filepath.Join(home, name)
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	_, carried := practice.Carried.Files()
	_, turned := practice.Turned.Files()
	machine, table := place("head.toml", carried), place("table.toml", turned)
	var names []string
	for i := range 100 {
		names = append(names, fmt.Sprintf("plate %d", i))
	}
	planned := 0
	toldAsBefore(t, "plans", names, func(t *testing.T, name string) map[string]string {
		var seed uint64
		if _, err := fmt.Sscanf(name, "plate %d", &seed); err != nil {
			t.Fatal(err)
		}
		chance := rand.New(rand.NewPCG(seed, 2204))
		text := drawnPlate(chance)
		drawing := place("plate.toml", []byte(text))
		if seed%5 == 0 {
			drawing = filepath.Join("..", "..", "testdata", "drawing", []string{"quadrant-plate.dxf",
				"tensioner-two-levels.toml"}[seed/5%2])
		}
		flags := flagsByChance(chance, seed%5 > 0 && strings.Contains(text, "closed = false"), machine, table)
		out := map[string]string{}
		for _, args := range [][]string{{"plan"}, {"plan", "--json"}, {"sheet"}, {"blends", "--json"}} {
			said, code := saidOf(home, append(append(args, drawing), flags...))
			if code == exitDone {
				planned++
			}
			out[strings.Join(args, "")] = fmt.Sprintf("%d\n%s", code, strings.ReplaceAll(said, home, "HOME"))
		}
		return out
	})
	if planned < 150 {
		t.Errorf("%d of 400 are planned, the others refused: want most of them planned", planned)
	}
}

// saidOf is what the program says and complains of, in somebody's own home.
func saidOf(home string, args []string) (said string, code int) {
	var out, complaints bytes.Buffer
	at := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
	code = run(args, world{in: strings.NewReader(""), out: &out, err: &complaints, getenv: homeAt(home),
		now: func() time.Time { return at }})
	return out.String() + complaints.String(), code
}
