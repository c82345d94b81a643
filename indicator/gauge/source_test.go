package gauge

import (
	"strings"
	"testing"
)

func TestPickSource(t *testing.T) {
	ports := []string{"/dev/ttyUSB0", "COM3"}
	for text, want := range map[string]string{
		"1": "serial:/dev/ttyUSB0", " 2 ": "serial:COM3", "COM7": "serial:COM7", "/dev/ttyS1": "serial:/dev/ttyS1", "fifo:a b": "fifo:a b",
		"exec:read it": "exec:read it", "serial:COM1": "serial:COM1",
	} {
		if got, err := PickSource(ports, text); err != nil || got != want {
			t.Errorf("%q: %q, %v, want %q", text, got, err, want)
		}
	}
	for _, text := range []string{"", "0", "3", "-1", "usb:1", "serial:", "a\x00b"} {
		if got, err := PickSource(ports, text); err == nil || !strings.Contains(err.Error(), "need") {
			t.Errorf("%q: %q, %v", text, got, err)
		}
	}
}
