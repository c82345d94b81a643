// Command beside runs whole programs in turn and says how long each takes beside another: trammel fit of a million lines beside the
// same by numpy (testdata/fit/million.py), and trammel --version beside a program that links the same libraries and does nothing.
//
//	go run .ci/against/main.go [-n ROUNDS] [-python PYTHON]
//
// A line per program: the least wall time and processor time of its rounds, the most memory, and for what it is measured beside,
// how many times as long that took. The least is what the machine's other work falls out of. Without numpy its rows say so.
package main

import (
	"bufio"
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"
)

// run is a program and what its rounds took.
type run struct {
	name string
	args []string
	wall time.Duration // the least
	cpu  time.Duration // the least
	peak int64         // the most, KiB
}

func main() {
	log.SetFlags(0)
	log.SetPrefix("beside: ")
	n, python := flag.Int("n", 20, "`rounds`"), flag.String("python", "python3", "a Python that has numpy")
	flag.Parse()
	work, err := os.MkdirTemp("", "beside")
	must(err)
	defer os.RemoveAll(work)
	at := func(name string) string { return filepath.Join(work, name) }
	must(os.WriteFile(at("linked.go"), linked(), 0o600))
	must(os.WriteFile(at("empty.go"), []byte("package main\n\nfunc main() {}\n"), 0o600))
	for name, from := range map[string]string{"trammel": "./cmd/trammel", "linked": at("linked.go"), "empty": at("empty.go")} {
		build := exec.Command("go", "build", "-o", at(name), from)
		build.Stderr = os.Stderr
		must(build.Run())
	}
	write(at("readings"), func(t, scatter float64) (a, b float64) {
		sin, cos := math.Sincos(t * math.Pi / 180)
		return t, 0.1 - 0.0251*cos + 0.0127*sin + scatter
	})
	write(at("points"), func(t, scatter float64) (a, b float64) {
		sin, cos := math.Sincos(t * math.Pi / 180)
		return 10 + (42+scatter)*cos, -5 + (42+scatter)*sin
	})
	fmt.Printf("%s/%s, %s, %d cores, %d rounds\n", runtime.GOOS, runtime.GOARCH, runtime.Version(), runtime.NumCPU(), *n)
	script, trammel := "testdata/fit/million.py", at("trammel")
	few := max(3, *n/4)
	if exec.Command(*python, "-c", "import numpy").Run() == nil {
		beside(few, run{name: "a million readings", args: []string{trammel, "fit", "--reference-radius", "30", "--reach", "-12",
			at("readings")}},
			run{name: "by numpy", args: []string{*python, script, "readings", "30", "-12", at("readings")}})
		beside(few, run{name: "a million points", args: []string{trammel, "fit", "--points", at("points")}},
			run{name: "by numpy", args: []string{*python, script, "points", at("points")}})
	} else {
		beside(few, run{name: "a million readings", args: []string{trammel, "fit", "--reference-radius", "30", "--reach", "-12",
			at("readings")}})
		beside(few, run{name: "a million points", args: []string{trammel, "fit", "--points", at("points")}})
		fmt.Printf("NOT MEASURED beside numpy: %s has none\n", *python)
	}
	beside(3**n, run{name: "--version", args: []string{trammel, "--version"}}, run{name: "linking alone", args: []string{at("linked")}},
		run{name: "an empty program", args: []string{at("empty")}})
}

// linked is a program that imports all that trammel does of others and of the standard library.
func linked() []byte {
	out, err := exec.Command("go", "list", "-deps", "-f", "{{if or .Standard (and .Module (not .Module.Main))}}{{.ImportPath}}{{end}}",
		"./cmd/trammel").Output()
	must(err)
	var b strings.Builder
	b.WriteString("package main\n\nimport (\n")
	for _, path := range strings.Fields(string(out)) {
		if in := "/" + path + "/"; path != "unsafe" && !strings.Contains(in, "/internal/") && !strings.Contains(in, "/vendor/") {
			fmt.Fprintf(&b, "\t_ %q\n", path)
		}
	}
	b.WriteString(")\n\nfunc main() {}\n")
	return []byte(b.String())
}

// write writes a million lines of two numbers.
func write(name string, at func(t, scatter float64) (a, b float64)) {
	file, err := os.Create(name)
	must(err)
	w, rng := bufio.NewWriter(file), rand.New(rand.NewPCG(22, 7))
	for i := range 1_000_000 {
		a, b := at(360*float64(i)/1e6, 0.002*rng.NormFloat64())
		fmt.Fprintf(w, "%.4f %.4f\n", a, b)
	}
	must(w.Flush())
	must(file.Close())
}

// beside runs the programs in turn, one round unseen first, and says how each compares with the first.
func beside(rounds int, all ...run) {
	for round := range rounds + 1 {
		for i := range all {
			r := &all[i]
			cmd := exec.Command(r.args[0], r.args[1:]...)
			cmd.Stderr = os.Stderr
			began := time.Now()
			must(cmd.Run())
			wall, cpu := time.Since(began), cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime()
			r.peak = max(r.peak, cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss)
			if round == 1 || round > 0 && wall < r.wall {
				r.wall = wall
			}
			if round == 1 || round > 0 && cpu < r.cpu {
				r.cpu = cpu
			}
		}
	}
	for i, r := range all {
		fmt.Printf("%-20s wall %7.1f ms  processor %7.1f ms  %6.1f MB", r.name, 1e3*r.wall.Seconds(), 1e3*r.cpu.Seconds(),
			float64(r.peak)*1024/1e6)
		if i > 0 {
			fmt.Printf("  %5.2f times as long, %5.2f of processor", r.wall.Seconds()/all[0].wall.Seconds(),
				r.cpu.Seconds()/all[0].cpu.Seconds())
		}
		fmt.Println()
	}
}

func must(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
