package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// What the README tells of drawn machines stands in the page of figures, which nobody types: each row of its table, and how many
// settings of the two-point hand are outside without showing it.
func TestReadmeHasTheFigures(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(top, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	page, _ := findTopic("figures")
	rows := regexp.MustCompile(`(?m)^    (parked|collar|two-point) .*[0-9]$`).FindAllString(string(text), -1)
	if len(rows) < 3 {
		t.Errorf("%d rows of figures in the README, want those of three hands", len(rows))
	}
	for _, row := range rows {
		if !strings.Contains(page.Text, row+"\n") {
			t.Errorf("the page of figures has no row %q", row)
		}
	}
	within := regexp.MustCompile(`(?m)^    two-point +([0-9]+) `).FindStringSubmatch(page.Text)
	out := regexp.MustCompile(`([0-9]+) of its 1000 settings are outside`).FindStringSubmatch(strings.Join(strings.Fields(string(text)), " "))
	if within == nil || out == nil {
		t.Fatalf("two-point: %q on the page, %q in the README", within, out)
	}
	if n, err := strconv.Atoi(within[1]); err != nil || strconv.Itoa(1000-n) != out[1] {
		t.Errorf("%s of 1000 truly within, and the README says %q", within[1], out[0])
	}
}

// proven are the rows of the page of what was measured, which nobody types either: the figure of each, without its unit.
func proven(t *testing.T) map[string]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(top, ".ci", "proof", "figures.md"))
	if err != nil {
		t.Fatal(err)
	}
	figures := map[string]string{}
	for _, row := range regexp.MustCompile(`(?m)^\| ([^|]+) \| ([0-9][^ |]*)[^|]* \|`).FindAllStringSubmatch(string(text), -1) {
		figures[row[1]] = row[2]
	}
	return figures
}

// The pages that a user reads say what the page of what was measured says, which is of the same run.
func TestHelpIsWhatWasMeasured(t *testing.T) {
	all := proven(t)
	same := func(page, row, said string) {
		if want, is := all[row]; !is || want != said {
			t.Errorf("%s says %q of %q, where %q was measured", page, said, row, want)
		}
	}
	rows := regexp.MustCompile(`(?m)^    (\S+(?: -?-?\S+)*) +(\d+) +([0-9.]+) +\d+ +([0-9.]+) +[0-9.]+ +[0-9.]+$`)
	for page, least := range map[string]int{"figures": 11, "setups": 6} {
		topic, _ := findTopic(page)
		found := rows.FindAllStringSubmatch(topic.Text, -1)
		if len(found) < least {
			t.Errorf("%s: %d rows of machines, want %d", page, len(found), least)
		}
		for _, row := range found {
			same(page, row[1]+": truly within", row[2])
			same(page, row[1]+": trials, mean", row[3])
		}
	}
	trust, _ := findTopic("trust")
	for row, said := range map[string]string{
		"stopped sweeps, repeatability stated, the fewest of 95 % held": `repeatability stated: ([0-9.]+) to`,
		"stopped sweeps, called inside at a limit, the most":            `lies at a limit, ([0-9.]+) %`,
		"steps inside their bands, the blend with the fewest":           `of 2000 parts: ([0-9.]+) to`,
		"a rim and two hollows: the third is nearer":                    `a rim and two hollows: ([0-9.]+) %`,
		"a plan's time, the power of 1000 to 20 000 circles or arcs":    `a plan of .* to ([0-9.]+)\n`,
		"a report's time, the power of 1000 to 100 000 events":          `a report of .* to ([0-9.]+)\n`,
		"a million readings, processor time":                            `a million readings: ([0-9.]+) s`,
		"a million points, processor time":                              `a million points: ([0-9.]+) s`,
		"--version, times linking alone":                                `--version takes ([0-9.]+) times`,
	} {
		m := regexp.MustCompile(said).FindStringSubmatch(trust.Text)
		if m == nil {
			t.Errorf("trust says nothing like %q", said)
			continue
		}
		same("trust", row, m[1])
	}
}
