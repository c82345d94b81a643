package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"go.bug.st/serial"

	"example.org/trammel/indicator/gauge"
)

var parities = map[gauge.Parity]serial.Parity{
	gauge.None: serial.NoParity, gauge.Odd: serial.OddParity, gauge.Even: serial.EvenParity, gauge.Mark: serial.MarkParity,
	gauge.Space: serial.SpaceParity,
}

var stops = map[float64]serial.StopBits{1: serial.OneStopBit, 1.5: serial.OnePointFiveStopBits, 2: serial.TwoStopBits}

// serialSource is a serial line.
func serialSource(_ world, device string, s *gauge.Settings) gaugeSource {
	mode := serial.Mode{BaudRate: s.Serial.Baud, DataBits: s.Serial.Bits, Parity: parities[s.Serial.Parity], StopBits: stops[s.Serial.Stop]}
	return gaugeSource{
		midway: true, keeps: true,
		open: func() (io.ReadCloser, error) {
			port, err := serial.Open(device, &mode)
			if err != nil {
				return nil, withHint(fmt.Errorf("serial line %s: %w", device, err), "%s", serialHint(device, err))
			}
			// What waits was sent before anything was asked. Where a line cannot throw it away, none can wait in it.
			_ = port.ResetInputBuffer()
			return port, nil
		},
		because: func(err error) error {
			var closed *serial.PortError
			if errors.As(err, &closed) && closed.Code() == serial.PortClosed {
				return fmt.Errorf("serial line %s: nothing is plugged in there any more", device)
			}
			return fmt.Errorf("serial line %s: %w", device, err)
		},
	}
}

// mostPorts bounds how many serial lines a hint names.
const mostPorts = 8

// serialHint says what to do about a serial line that cannot be opened.
func serialHint(device string, err error) string {
	var port *serial.PortError
	missing := errors.Is(err, fs.ErrNotExist)
	if errors.As(err, &port) {
		switch port.Code() {
		case serial.PortBusy:
			return "another program has it; end that one"
		case serial.PermissionDenied:
			return notAllowed(device)
		case serial.InvalidSpeed, serial.InvalidDataBits, serial.InvalidParity, serial.InvalidStopBits:
			return "see baud, bits, parity and stop under [gauge] in the machine's file"
		case serial.PortNotFound:
			missing = true
		}
	}
	ports, _ := serial.GetPortsList()
	switch {
	case len(ports) > mostPorts:
		ports = append(ports[:mostPorts], "…")
	case len(ports) == 0:
		ports = []string{"none"}
	}
	todo := "name a serial line" + deviceNames
	if missing {
		todo = "plug it in, and see to its name" + deviceNames
	}
	return todo + "; the serial lines that are there: " + printable(strings.Join(ports, ", "))
}
