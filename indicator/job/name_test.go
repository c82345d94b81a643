package job_test

import (
	"testing"

	"example.org/trammel/indicator/job"
)

// Names that are no file's everywhere, or read as a flag, are refused; those that only look like them are taken. The devices are
// those of "Naming Files, Paths, and Namespaces" in the documentation of Windows.
func TestNamesOfFiles(t *testing.T) {
	for _, name := range []string{"CON", "prn", "Aux", "NUL", "COM0", "com1", "COM9", "LPT1", "lpt9", "-mill", "-", "--json"} {
		if job.NameFits(name, nil) == nil {
			t.Errorf("%q fits, want it refused", name)
		}
	}
	for _, name := range []string{"console", "com", "com10", "lpt", "comx", "nul 2", "mill-2", "_mill", "2"} {
		if err := job.NameFits(name, nil); err != nil {
			t.Errorf("%q: %v, want it taken", name, err)
		}
	}
}
