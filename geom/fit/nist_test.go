package fit

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"strconv"
	"testing"
)

// certified is one data set of testdata/nist_linear.json.
type certified struct {
	ID     string      `json:"id"`
	Dof    int         `json:"dof"`
	Data   [][]float64 `json:"data"` // y, x₁, x₂ …
	Values []struct {
		Name  string  `json:"name"`
		Value float64 `json:"value"`
	} `json:"values"`
}

func certifiedSet(t *testing.T, id string) certified {
	t.Helper()
	text, err := os.ReadFile("testdata/nist_linear.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []certified `json:"cases"`
	}
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	for _, c := range file.Cases {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("no data set %q", id)
	return certified{}
}

// regression computes what NIST certifies of a fit, by the names used there, given what the fit
// makes of a row, its coefficients and their cofactors.
func (c certified) regression(fitted func(row []float64) float64, p, cofactor []float64) map[string]float64 {
	mean, left, all := 0.0, 0.0, 0.0
	for _, row := range c.Data {
		mean += row[0] / float64(len(c.Data))
	}
	for _, row := range c.Data {
		left += (row[0] - fitted(row)) * (row[0] - fitted(row))
		all += (row[0] - mean) * (row[0] - mean)
	}
	dof, terms := float64(c.Dof), float64(len(p)-1)
	got := map[string]float64{
		"ss_residual": left, "ms_residual": left / dof, "residual_sd": math.Sqrt(left / dof),
		"ss_regression": all - left, "r_squared": 1 - left/all, "f": (all - left) / terms / (left / dof),
	}
	for j := range p {
		name := "b" + strconv.Itoa(j)
		got[name], got["sd_"+name] = p[j], math.Sqrt(left/dof*cofactor[j])
	}
	return got
}

// want holds every certified value to so many digits (the negative logarithm of the relative
// error, as NIST counts them).
func (c certified) want(t *testing.T, got map[string]float64, digits float64) {
	t.Helper()
	least := math.Inf(1)
	for _, v := range c.Values {
		g, ok := got[v.Name]
		if !ok {
			t.Errorf("%s: nothing computes %q", c.ID, v.Name)
			continue
		}
		d := -math.Log10(apart(g, v.Value) / math.Abs(v.Value))
		if least = min(least, d); !(d >= digits) {
			t.Errorf("%s: %s = %.15g, certified %.15g: %.1f digits, want %v", c.ID, v.Name, g, v.Value, d, digits)
		}
	}
	t.Logf("%s: %.1f digits of %d certified values, at least", c.ID, least, len(c.Values))
	if len(c.Values) < 10 {
		t.Errorf("%s: only %d certified values", c.ID, len(c.Values))
	}
}

// cofactor is the squared length of R⁻¹'s row i.
func (q *solver) cofactor(i int) float64 {
	sum := 0.0
	for j := i; j < q.n; j++ {
		var v [maxTerms]float64 // column j of R⁻¹
		for k := j; k >= i; k-- {
			if k == j {
				v[k] = 1
			}
			for l := k + 1; l <= j; l++ {
				v[k] -= q.r[k][l] * v[l]
			}
			v[k] /= q.r[k][k]
		}
		sum += v[i] * v[i]
	}
	return sum
}

// The rotations, on the columns as they are. Longley's have a condition of 5e9, which leaves seven
// digits in the worst case.
func TestRotationsCertified(t *testing.T) {
	for id, digits := range map[string]float64{"norris": 11.5, "longley": 10.5} {
		c := certifiedSet(t, id)
		q := solver{n: len(c.Data[0])}
		for _, row := range c.Data {
			a := [maxTerms]float64{1}
			copy(a[1:], row[1:])
			q.add(a, row[0])
		}
		p := q.solve()
		fitted := func(row []float64) float64 {
			sum := p[0]
			for j, x := range row[1:] {
				sum += p[j+1] * x
			}
			return sum
		}
		var cofactor []float64
		for i := range q.n {
			cofactor = append(cofactor, q.cofactor(i))
		}
		got := c.regression(fitted, p[:q.n], cofactor)
		c.want(t, got, digits)
		if left := got["ss_residual"]; apart(q.rss, left) > 1e-10*left {
			t.Errorf("%s: the rotations leave %.15g, the residuals are %.15g", id, q.rss, left)
		}
	}
}

// The columns of three unknowns. A load of Pontius counts in its own step of 150 000, without which
// the square of millions is refused as too near to the others.
func TestColumnsCertified(t *testing.T) {
	c := certifiedSet(t, "pontius")
	const step = 150000
	var rows, raw []equation
	for _, row := range c.Data {
		x := row[1] / step
		rows = append(rows, equation{1, x, x * x, row[0]})
		raw = append(raw, equation{1, row[1], row[1] * row[1], row[0]})
	}
	q := factor(rows)
	if err := singular(q.condition()); err != nil {
		t.Fatal(err)
	}
	p := q.solve()
	s := q.cofactor()
	fitted := func(row []float64) float64 { x := row[1] / step; return p[0] + p[1]*x + p[2]*x*x }
	c.want(t, c.regression(fitted,
		[]float64{p[0], p[1] / step, p[2] / step / step},
		[]float64{s[0][0], s[1][1] / step / step, s[2][2] / step / step / step / step}), 11)
	q = factor(raw)
	if err := singular(q.condition()); !errors.As(err, new(*SingularError)) {
		t.Errorf("raw squares: error %v, want a singular one", err)
	}
}

// An unknown that is held has a column of zeros and one row of its own, which asks that it does not
// move: it stays exactly where it is, and the others are those of the smaller problem.
func TestHeldColumn(t *testing.T) {
	c := certifiedSet(t, "norris")
	for held := range 3 {
		place := func(u, v, x, rhs float64) equation { // u and v in the columns that are not held, x in the one that is
			a := [3]float64{}
			a[(held+1)%3], a[(held+2)%3], a[held] = u, v, x
			return equation{a[0], a[1], a[2], rhs}
		}
		rows := []equation{place(0, 0, 1, 0)}
		for _, row := range c.Data {
			rows = append(rows, place(1, row[1], 0, row[0]))
		}
		q := factor(rows)
		p, err := q.solve(), singular(q.condition())
		if err != nil || p[held] != 0 {
			t.Errorf("unknown %d moved by %v, error %v", held, p[held], err)
		}
		u, v, s := (held+1)%3, (held+2)%3, q.cofactor()
		fitted := func(row []float64) float64 { return p[u] + p[v]*row[1] }
		c.want(t, c.regression(fitted, []float64{p[u], p[v]}, []float64{s[u][u], s[v][v]}), 11.5)
	}
}
