package practice

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
)

// Each trap makes the one thing of the machine otherwise that it says, and nothing else; the files do not say it.
func TestTrapsAreLaid(t *testing.T) {
	for _, trap := range Traps() {
		if got, err := ParseTrap(trap.String()); err != nil || got != trap {
			t.Errorf("%v is read as %v, %v", trap, got, err)
		}
		for seed := uint64(1); seed <= 20; seed++ {
			was, is := Draw(seed, Options{}), Draw(seed, Options{Trap: trap})
			if !bytes.Equal(was.Machine, is.Machine) {
				t.Fatalf("%v: the machine's file says it", trap)
			}
			w, x := was.World, is.World
			switch trap {
			case ReachTrap:
				if by := math.Abs(x.Reach - w.Reach); math.Abs(by-0.05) > 1e-12 {
					t.Errorf("machine %d: reach off by %.4f, want 0.05", seed, by)
				}
				x.Reach = w.Reach
			case OvalTrap, ThreeLobedTrap:
				lobe := &x.TwoLobe
				if trap == ThreeLobedTrap {
					lobe = &x.ThreeLobe
				}
				if lobe.Height < 0.004 || lobe.Height > 0.015 {
					t.Errorf("machine %d: %v by %.4f, want 0.004 to 0.015", seed, trap, lobe.Height)
				}
				x.TwoLobe, x.ThreeLobe = w.TwoLobe, w.ThreeLobe
			case OffsetHandleTrap:
				x.Offset.ClockwiseIncreases = !x.Offset.ClockwiseIncreases
			case XHandleTrap:
				x.X.ClockwiseIncreases = !x.X.ClockwiseIncreases
			case YHandleTrap:
				x.Y.ClockwiseIncreases = !x.Y.ClockwiseIncreases
			case NoTrap, trapsInAll:
			}
			if x != w {
				t.Errorf("%v, machine %d: %+v, want %+v and no more than the trap", trap, seed, x, w)
			}
			row := traps[trap]
			if row.unsaid != "" && strings.Contains(string(is.Job), row.unsaid) {
				t.Errorf("%v, machine %d: the job says %s", trap, seed, row.unsaid)
			}
			if rest := len(was.Job) - len(is.Job); row.unsaid == "" && rest != 0 {
				t.Errorf("%v, machine %d: the job is another", trap, seed)
			}
		}
	}
	for _, word := range []string{"", "none", "Oval", "x"} {
		if got, err := ParseTrap(word); err == nil || got != NoTrap {
			t.Errorf("%q is read as %v", word, got)
		}
	}
}

// With a handle reversed, a clockwise turn takes the slide the other way, by as much.
func TestReversedHandle(t *testing.T) {
	for _, turned := range []bool{false, true} {
		for i, name := range slideNames(turned) {
			trap := []Trap{OffsetHandleTrap, XHandleTrap, YHandleTrap}[i]
			var went [2]geom.Point
			for k, o := range []Options{{Turned: turned}, {Turned: turned, Trap: trap}} {
				d := Draw(3, o)
				for _, s := range []*Slide{&d.Offset, &d.X, &d.Y} {
					s.Backlash, s.Wobble = 0, 0
				}
				d.HandNoise, d.OffsetMiss = 0, 0
				m := New(d.World, 3)
				before := m.Truth()
				if err := m.Turn(name, Move{Clockwise: true, Divisions: 50}); err != nil {
					t.Fatal(err)
				}
				after := m.Truth()
				went[k] = geom.Point{X: after.CentreX - before.CentreX + after.Swing - before.Swing, Y: after.CentreY - before.CentreY}
			}
			if off := went[0].Add(went[1]).Norm(); off > 1e-9 || went[0].Norm() < 0.9 {
				t.Errorf("turned %v, %s: went %v, reversed %v", turned, name, went[0], went[1])
			}
		}
	}
}
