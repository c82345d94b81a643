package pane

import (
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// golden holds what was drawn to what a person has looked at.
func golden(t *testing.T, name, got string) {
	t.Helper()
	if ansi.StringWidth("±") != 1 {
		t.Fatal("goldens are drawn with signs of one cell: unset RUNEWIDTH_EASTASIAN")
	}
	testdata.WantGolden(t, filepath.Join("testdata", name+".golden"), got)
}

// widths are those at which every pane is looked at.
var widths = []int{40, 60, 80, 120}

// gallery draws one pane at every width, and once in ASCII. A bar ends every line.
func gallery(draw func(plain bool, w int) string) string {
	var b strings.Builder
	hang := func(name, drawn string) {
		fmt.Fprintf(&b, "-- %s\n%s", name, testdata.Barred(drawn))
	}
	for _, w := range widths {
		hang(fmt.Sprint(w), draw(false, w))
	}
	hang("80 plain", draw(true, 80))
	return b.String()
}

// The states of the job: the work, the action, the keys.
func TestWorkNextKeys(t *testing.T) {
	for _, s := range append(scenes(), tableScenes()...) {
		t.Run(s.name, func(t *testing.T) {
			normal, plain := s.see(t, false), s.see(t, true)
			v := func(p bool) *View {
				if p {
					return plain
				}
				return normal
			}
			golden(t, "work/"+s.name, gallery(func(p bool, w int) string { return Work(v(p), w, 14) }))
			golden(t, "next/"+s.name, gallery(func(p bool, w int) string {
				return nextAt(v(p), w, 24) + "\n" + Rule(v(p).Theme, w) + "\n" + Box(v(p).Theme, Keys(v(p), bindings(v(p)), w), w, 1)
			}))
		})
	}
}

// The page before the first reading, and the top line, for every way to touch.
func TestSetupAim(t *testing.T) {
	for _, name := range slices.Sorted(maps.Keys(setups())) {
		b := begin(t, setups()[name])
		golden(t, "setup/"+name, gallery(func(p bool, w int) string { return Setup(b.sees(p), w, 14).Draw(0) })+
			"-- leaf\n"+leaf(b, 1, 80, 14)+"-- 58x20\n"+leaf(b, 0, 58, 10)+"-- 120x40\n"+leaf(b, 0, 120, 30))
		golden(t, "aim/"+name, gallery(func(p bool, w int) string {
			v := b.sees(p)
			practice := *v
			practice.Practice, practice.Seed = true, 1234
			return Box(v.Theme, Aim(v, w)+"\n"+Aim(&practice, w), w, 2)
		}))
	}
}

// leaf draws a leaf of the set-up page.
func leaf(b *bench, n, w, h int) string {
	return strings.ReplaceAll(Setup(b.sees(false), w, h).Draw(n), "\n", "|\n") + "|\n"
}

// The pages that lie over the work.
func TestPages(t *testing.T) {
	two := begin(t, nil).answer(40, session.ForAccept)
	golden(t, "trials/one", gallery(func(p bool, w int) string { return Trials(begin(t, nil).answer(3+1, never).sees(p), w, 14) }))
	golden(t, "trials/two", gallery(func(p bool, w int) string { return Trials(two.sees(p), w, 14) }))
	golden(t, "list", gallery(func(p bool, w int) string {
		words := strings.Split("accept,sweep again,help,undo: the accepted setting,a word that is told at such length that it takes two rows,trials,"+
			"scale: X,scale: Y,scale: offset,note,quit", ",")
		return List(colourless(p), "", words, "1", w, 9).Draw(0)
	}))
	help := func(b *bench, practice bool) string {
		return gallery(func(p bool, w int) string {
			v := b.sees(p)
			v.Practice, v.Page = practice, true
			return everyLeaf(v.Theme, Help(v, bindings(v)), w, 14)
		})
	}
	golden(t, "help/load", help(begin(t, nil), false))
	golden(t, "help/practice", help(begin(t, nil).answer(3+2, never), true))
	golden(t, "help/settled", help(two, false))
}

// The form of the reference: a true bore whose readings stray, an oval one, an inch job, a dial of
// unknown repeatability, and too few stations.
func TestForm(t *testing.T) {
	hang := func(name string, b *bench) {
		golden(t, "form/"+name, gallery(func(p bool, w int) string { return Form(b.sees(p), w, 14) }))
	}
	oval := func(change func(*session.Opened)) *bench {
		b := begin(t, func(o *session.Opened) {
			o.Job.Sweep.Stations, o.Job.Sweep.AtLeast = 8, 8
			if change != nil {
				change(o)
			}
		}).answer(3, never)
		for range 8 {
			at := float64(b.prompt().Reading.Bearing)
			b.do(session.Take{Reading: math.Round(10-20*math.Cos(2*(at-0.5))) / 1000})
		}
		return b
	}
	hang("six", begin(t, nil).answer(3+6, never))
	hang("oval", oval(nil))
	hang("inch", oval(func(o *session.Opened) { o.Job.Unit, o.Job.Dial.Graduation = geom.Inch, 0.0005*25.4 }))
	hang("unknown-noise", oval(func(o *session.Opened) { o.Job.Dial.Repeatability = 0 }))
	hang("too-few", begin(t, nil).answer(3+4, never))
	hang("kept", misread(0.2)(t).do(session.Keep{}))
	hang("doubt", misread(0.2)(t))
}

// The pictures that the panes put into the plot's terms.
func TestPictures(t *testing.T) {
	for _, s := range scenes() {
		switch s.name {
		case "stations-5", "wind-two", "parked-two", "settled":
			normal, plain := s.see(t, false), s.see(t, true)
			golden(t, "picture/"+s.name, gallery(func(p bool, w int) string {
				if p {
					return Picture(plain, w/2, 14)
				}
				return Picture(normal, w/2, 14)
			}))
		}
	}
	blocked := begin(t, setups()["obstacles"]).answer(3+3, never)
	golden(t, "picture/obstacles", gallery(func(p bool, w int) string { return Picture(blocked.sees(p), w/2, 14) }))
}
