//go:build unix

package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// trials writes the journal of a sweep of 12 stations that is in trial n, round a clamp, for all the way round no more than 8 are
// asked for: whatever is wound, the work moves off again before the next sweep. The readings are those of the
// exact model of a carried bore, m = R + t − d, with d = e·u + √(ρ² − (e·v)²).
func trials(b *testing.B, path string, n int) {
	b.Helper()
	j, err := journal.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	o := testdata.Setting(b, practice.BenchJob, practice.BenchMachine)
	o.Job.Sweep.Stations, o.Job.Sweep.AtLeast, o.Job.Sweep.Obstacles = 12, 12, []setup.Obstacle{{From: 5.9, To: 6.1}}
	live := session.NewLive(session.State{}, j)
	at := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
	do := func(c session.Command) {
		b.Helper()
		at = at.Add(20 * time.Second)
		if _, err := live.Do(c, at); err != nil {
			b.Fatal(err)
		}
	}
	do(session.Open{Opened: o})
	for s := live.State(); s.Trial < n; s = live.State() {
		switch p := live.Asked(); p.Waits {
		case session.ForReading:
			ex, ey := 0.2, 0.05*float64(s.Trial%3)
			sin, cos := math.Sincos(float64(p.Reading.Bearing))
			across := -ex*sin + ey*cos
			do(session.Take{Reading: math.Round((42-12-ex*cos-ey*sin-math.Sqrt(30*30-across*across))*500) / 500})
		case session.ForLoad, session.ForWind:
			do(session.Confirm{})
		default:
			b.Fatalf("the session waits for %d in trial %d, want a reading or a wind", p.Waits, s.Trial)
		}
	}
	if err := j.Close(); err != nil {
		b.Fatal(err)
	}
}

// From a key that is written to a pseudo-terminal to the screen that shows what it did, in trial 50 of a sweep of 12 stations:
// digits, and / which clears them; nothing is recorded. The terminal library draws on a clock of 60 a second, so keys come at
// times by chance. One run (-benchtime 500x, two cores, little else), median and 99 of 100: 10 and 18 ms at 80 × 24, 11 and 19 ms
// at 200 × 50.
func BenchmarkKeyToTerminal(b *testing.B) {
	for _, size := range [][2]int{{80, 24}, {200, 50}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			home := b.TempDir()
			trials(b, filepath.Join(home, "j.jsonl"), 50)
			x := on(b, program(b, home, "dial", "--resume", "--journal", "j.jsonl"), size[0], size[1])
			x.shows("trial 50", "station 1 of 12")
			chance := rand.New(rand.NewPCG(4, 8))
			var all []time.Duration
			for b.Loop() {
				for _, key := range []string{"1", "/"} {
					time.Sleep(20*time.Millisecond + time.Duration(chance.IntN(20_000))*time.Microsecond)
					all = append(all, x.pressed(key))
				}
			}
			slices.Sort(all)
			b.ReportMetric(float64(all[len(all)/2].Microseconds())/1e3, "median-ms")
			b.ReportMetric(float64(all[len(all)*99/100].Microseconds())/1e3, "p99-ms")
		})
	}
}

// pressed types a key and returns how long the screen took to show another page.
func (x *terminal) pressed(key string) time.Duration {
	x.t.Helper()
	before := strings.Join(x.screen(), "\n")
	select {
	case <-x.changed: // of before
	default:
	}
	begun := time.Now()
	x.types(key)
	x.until("what the key does", func(rows []string) bool { return strings.Join(rows, "\n") != before })
	return time.Since(begun)
}
