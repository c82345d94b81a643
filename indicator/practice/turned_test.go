package practice

import "testing"

func TestTurnedConverges(t *testing.T) {
	for _, h := range []Hand{Parked, Collar} {
		for _, o := range []Options{{Turned: true}, {Turned: true, Locks: true}, {Turned: true, Coarse: true}} {
			converged(t, h, o)
		}
	}
	converged(t, TwoPoint, Options{Turned: true})
}
