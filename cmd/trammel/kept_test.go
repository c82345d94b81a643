package main

import (
	"crypto/sha256"
	cmdline "flag"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/trammel/testdata"
)

var keptFolder = cmdline.String("told", "", "folder to write to all that is told of the kept cases")

// longNumber is one with more digits than two processors need to agree in.
var longNumber = regexp.MustCompile(`-?\d+\.\d{8,}`)

// toldAsBefore holds what is told of each case to the digests of what was told of it before, one for each way of telling. A change
// that is meant is taken over by -update; with -told DIR all of it is written there, so that a comparison of two folders shows what
// has changed from one commit to another.
func toldAsBefore(t *testing.T, what string, names []string, told func(t *testing.T, name string) map[string]string) {
	t.Helper()
	var now strings.Builder
	for _, name := range names {
		all := told(t, name)
		fmt.Fprintf(&now, "%s:", name)
		for _, way := range slices.Sorted(maps.Keys(all)) {
			text := longNumber.ReplaceAllStringFunc(all[way], func(n string) string {
				v, _ := strconv.ParseFloat(n, 64)
				return strconv.FormatFloat(math.Round(v*1e7)/1e7+0, 'f', -1, 64)
			})
			sum := sha256.Sum256([]byte(text))
			fmt.Fprintf(&now, " %s %x", way, sum[:5])
			if *keptFolder != "" {
				writeAll(t, filepath.Join(*keptFolder, what+"-"+name+"."+way), text)
			}
		}
		now.WriteString("\n")
	}
	was := strings.Split(testdata.Golden(t, filepath.Join("..", "..", "testdata", "kept", what+".txt"), now.String()), "\n")
	is := strings.Split(now.String(), "\n")
	if len(is) != len(was) {
		t.Fatalf("%s: %d cases, want %d", what, len(is)-1, len(was)-1)
	}
	for i := range is {
		name, ways, _ := strings.Cut(is[i], ":")
		_, old, _ := strings.Cut(was[i], ":")
		now, before := strings.Fields(ways), strings.Fields(old)
		if len(now) != len(before) {
			t.Fatalf("%s: told in %d ways, want %d", name, len(now)/2, len(before)/2)
		}
		for k := 1; k < len(now); k += 2 {
			if now[k] != before[k] {
				t.Errorf("%s: its %s differ from what was told before (-told DIR writes all that is told now)", name, now[k-1])
			}
		}
	}
}

func writeAll(t *testing.T, file, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}
