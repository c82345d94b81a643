package lines_test

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"
	"testing"
)

// places counts the decimals of a JSON number.
func places(t *testing.T, n string) int {
	t.Helper()
	mantissa, exponent, _ := strings.Cut(n, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	e := 0
	if exponent != "" {
		var err error
		if e, err = strconv.Atoi(exponent); err != nil {
			t.Fatal(err)
		}
	}
	return max(0, len(decimals)-e)
}

// Of everything that is said no number has more than twelve decimals or a negative zero.
func TestEveryNumberIsRounded(t *testing.T) {
	seen := 0
	for _, l := range everything(t) {
		raw := encode(t, l)
		d := json.NewDecoder(bytes.NewReader(raw))
		d.UseNumber()
		for tok, err := d.Token(); err == nil; tok, err = d.Token() {
			n, ok := tok.(json.Number)
			if !ok {
				continue
			}
			seen++
			if places(t, n.String()) > 12 || strings.Trim(n.String(), "-0.") == "" && n.String() != "0" {
				t.Errorf("number %s in %s", n, raw)
			}
		}
	}
	if seen < 1000 {
		t.Errorf("%d numbers were looked at, want many", seen)
	}
}
