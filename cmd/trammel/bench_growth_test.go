package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// drawingOf is a drawing of n circles in a rim, of one swing radius or each of its own, or of one outline of n arcs.
func drawingOf(kind string, n int) string {
	var t strings.Builder
	t.WriteString("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n")
	line := func(x, y, u, v float64) {
		fmt.Fprintf(&t, "0\nLINE\n8\nrim\n10\n%g\n20\n%g\n11\n%g\n21\n%g\n", x, y, u, v)
	}
	side := int(math.Ceil(math.Sqrt(float64(n))))
	far := float64(60 * side)
	switch kind {
	case "wave":
		for i := range n {
			fmt.Fprintf(&t, "0\nARC\n8\nrim\n10\n%d\n20\n0\n40\n10\n50\n%d\n51\n%d\n", 20*i+10, i%2*180, i%2*180+180)
		}
		far = float64(20 * n)
		line(0, 0, 0, -200)
		line(0, -200, far, -200)
		line(far, -200, far, 0)
	default:
		line(-60, -60, far, -60)
		line(far, -60, far, far)
		line(far, far, -60, far)
		line(-60, far, -60, -60)
		for i := range n {
			radius := 20.0
			if kind == "radii" {
				radius = 10 + 15*float64(i)/float64(n)
			}
			fmt.Fprintf(&t, "0\nCIRCLE\n8\nholes\n10\n%d\n20\n%d\n40\n%g\n", i%side*60, i/side*60, radius)
		}
	}
	t.WriteString("0\nENDSEC\n0\nEOF\n")
	return t.String()
}

// runs is the program with arguments, which must not fail.
func runs(b *testing.B, args ...string) func() {
	return func() {
		w := world{in: strings.NewReader(""), out: io.Discard, err: io.Discard, now: time.Now, getenv: func(string) string { return "" },
			environ: func() []string { return nil }}
		if code := run(args, w); code != 0 {
			b.Fatalf("%q: exit code %d", args, code)
		}
	}
}

// growing are the sizes that growth is measured over.
var growing = []int{1000, 2000, 5000, 10_000, 20_000}

// BenchmarkPlanGrowth plans drawings of 1000 to 20 000 circles, or arcs, from the file to the text.
func BenchmarkPlanGrowth(b *testing.B) {
	for _, kind := range []string{"circles", "radii", "wave"} {
		b.Run(kind, func(b *testing.B) {
			testdata.ReportGrowth(b, growing, func(n int) func() {
				path := filepath.Join(b.TempDir(), "drawing.dxf")
				if err := os.WriteFile(path, []byte(drawingOf(kind, n)), 0o600); err != nil {
					b.Fatal(err)
				}
				return runs(b, "plan", "--cutter", "8", "--travel", "0,100", path)
			})
		})
	}
}

// BenchmarkReportGrowth reports journals of 1000 to 100 000 events, as text, as a page and as rows.
func BenchmarkReportGrowth(b *testing.B) {
	for _, form := range []string{"text", "html", "csv"} {
		b.Run(form, func(b *testing.B) {
			testdata.ReportGrowth(b, []int{1000, 5000, 20_000, 100_000}, func(n int) func() {
				path := filepath.Join(b.TempDir(), "j.jsonl")
				longJournal(b, path, "v1-practice-7.jsonl", n)
				args := map[string][]string{"text": {"report"}, "html": {"report", "-o", filepath.Join(b.TempDir(), "r.html")},
					"csv": {"report", "--csv"}}[form]
				return runs(b, append(args, path)...)
			})
		})
	}
}

// BenchmarkUnknownKeysGrowth refuses files with 1000 to 20 000 keys that nobody knows, of their own, in tables or in one of several:
// a job's, a machine's, a drawing's and the settings.
func BenchmarkUnknownKeysGrowth(b *testing.B) {
	for _, c := range []struct{ name, form, file string }{
		{"job", "key_%05[1]d = %[1]d\n", "job.toml"},
		{"job-tables", "[key_%05[1]d]\nx = %[1]d\n", "job.toml"},
		{"job-dotted", "key.n%05[1]d = %[1]d\n", "job.toml"},
		{"machine", "key_%05[1]d = %[1]d\n", "machine.toml"},
		{"machine-several", "[[key]]\nx = %[1]d\n", "machine.toml"},
		{"drawing", "key_%05[1]d = %[1]d\n", "drawing.toml"},
		{"drawing-circles", "[[circle]]\nkey_%05[1]d = %[1]d\n", "drawing.toml"},
		{"settings", "key_%05[1]d = %[1]d\n", "trammel/config.toml"},
	} {
		b.Run(c.name, func(b *testing.B) {
			testdata.ReportGrowth(b, growing, func(n int) func() {
				folder := b.TempDir()
				text := &strings.Builder{}
				for i := range n {
					fmt.Fprintf(text, c.form, i)
				}
				write := func(name, text string) string {
					path := filepath.Join(folder, name)
					if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, []byte(text), 0o600)); err != nil {
						b.Fatal(err)
					}
					return path
				}
				job, machine := write("job.toml", "unit = \"mm\"\n"), write("machine.toml", "unit = \"mm\"\n")
				path := write(c.file, text.String())
				args := []string{"dial", "--lines", "--job", job, "--machine", machine}
				if c.name == "settings" {
					args = []string{"config"}
				}
				if strings.HasPrefix(c.name, "drawing") {
					args = []string{"plan", "--cutter", "8", path}
				}
				return func() {
					var said strings.Builder
					w := world{in: strings.NewReader(""), out: io.Discard, err: &said, now: time.Now, environ: func() []string { return nil },
						getenv: func(name string) string { return map[string]string{"XDG_CONFIG_HOME": folder}[name] }}
					if code := run(args, w); code != 1 || !strings.Contains(said.String(), "unknown key") {
						b.Fatalf("%q: exit code %d, %.300s", args, code, said.String())
					}
				}
			})
		})
	}
}

// BenchmarkPartsGrowth reports and replays journals of 1000 to 100 000 events that are one setting with many parts: each counted, or
// each second one swept.
func BenchmarkPartsGrowth(b *testing.B) {
	opened := eventsOf(b, "v1-practice-7.jsonl")  // up to the accepted setting
	swept := eventsOf(b, "v1-parts.jsonl")[54:62] // five readings, up to the part that is accepted
	for _, c := range []struct {
		name  string
		sweep bool
		args  []string
	}{
		{"counted/report", false, []string{"report"}}, {"counted/replay", false, []string{"replay"}},
		{"swept/report", true, []string{"report"}}, {"swept/csv", true, []string{"report", "--csv"}},
		{"swept/html", true, []string{"report", "-o", filepath.Join(b.TempDir(), "r.html")}},
		{"swept/replay", true, []string{"replay"}},
	} {
		b.Run(c.name, func(b *testing.B) {
			testdata.ReportGrowth(b, []int{1000, 5000, 20_000, 100_000}, func(n int) func() {
				path := filepath.Join(b.TempDir(), "j.jsonl")
				all, part := slices.Clone(opened), 1
				for len(all) < n {
					part++
					all = append(all, session.Parted{Part: part, Sweep: c.sweep && part%2 == 0})
					if c.sweep && part%2 == 0 {
						all = append(all, swept...)
					}
				}
				writeJournal(b, path, len(all), func(i int) session.Event { return all[i] })
				return runs(b, append(c.args, path)...)
			})
		})
	}
}
