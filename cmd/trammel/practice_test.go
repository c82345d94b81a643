package main

import "testing"

// What is as good as nothing has no sign.
func TestOffWords(t *testing.T) {
	if got := offWords(-0.00001, -0.0123); got != "centre off by x 0.0000 mm, y -0.0123 mm" {
		t.Errorf("%q", got)
	}
}
