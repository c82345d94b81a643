package main

import (
	"bytes"
	"fmt"
	"math"
	"testing"
	"time"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// From the drawing to the checked arc: every arc of the quadrant plate that has metal on one side is planned, set on
// the practice machine with its order at the machine, roughed, measured, finished by one wind, and checked. What
// was accepted truly stands within the tolerance, and the arc that is cut in the end has its drawn radius but
// for what a hundredth of a measurement, a hand and a screw leave, whatever the cutter has worn.
func TestPlateFromDrawingToCheckedArcs(t *testing.T) {
	drawn := quadrant(t)
	done := 0
	for _, a := range drawn.Arcs {
		if a.Swing == 0 || a.Side == part.On {
			continue
		}
		arc, err := part.Pick(drawn, a.N, "quadrant-plate")
		if err != nil {
			t.Fatal(err)
		}
		// A tip that reads zero on the bench's ring of 30 at this swing radius.
		reach := 30 - a.Swing
		draft, err := job.ReadJob("bench-job.toml", bytes.Replace(practice.BenchJob, []byte("reach = -12.0"),
			fmt.Appendf(nil, "reach = %v", reach), 1))
		if err != nil {
			t.Fatal(err)
		}
		j, err := draft.For(arc.Figures())
		if err != nil {
			t.Fatalf("arc %d: %v", a.N, err)
		}
		m, err := job.ParseMachine("bench-machine.toml", practice.BenchMachine)
		if err != nil {
			t.Fatal(err)
		}
		w := practice.Bench(uint64(a.N))
		w.Reach, w.Start.Swing = reach, w.Start.Swing-42+a.Swing
		hands := practice.New(w, uint64(a.N))
		cutter := arc.Cutter - practiceWear
		if j.Cut.Hollow {
			cutter = -cutter
		}
		hands.Cutter(cutter)
		live := session.NewLive(session.State{}, &session.Memory{})
		if _, err := live.Do(session.Open{Opened: session.Opened{Program: "test", Job: j, Machine: m, Arc: arc, Steps: true}},
			time.Time{}); err != nil {
			t.Fatalf("arc %d: %v", a.N, err)
		}
		var set practice.Truth
		err = hands.Play(live, func() time.Time { return time.Time{} }, func(st session.Step) {
			if _, ok := st.Event.(session.Accepted); ok {
				set = hands.Truth()
			}
		})
		if s := live.State(); err != nil || s.Phase != session.Ended {
			t.Fatalf("arc %d ends in phase %d: %v", a.N, s.Phase, err)
		}
		if off := math.Hypot(set.CentreX, set.CentreY); math.Abs(set.Swing-a.Swing) > 0.02 || off > 0.02 {
			t.Errorf("arc %d was accepted at swing %.4f, centre off %.4f, want %.4f and 0, within 0.02", a.N, set.Swing, off, a.Swing)
		}
		// Half a hundredth of the measurement, and 0.2 of a division and a promille of 0.3 by the collar.
		if got := hands.Truth().Swing - cutter/2; math.Abs(got-a.Radius) > 0.012 {
			t.Errorf("arc %d is cut to %.4f, want %.4f", a.N, got, a.Radius)
		}
		done++
	}
	if done < 6 {
		t.Errorf("%d arcs were set and cut, want the rim's", done)
	}
}
