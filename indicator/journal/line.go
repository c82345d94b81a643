package journal

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"sync"
)

const (
	// maxLine is the longest line in bytes, line feed included. The longest that a session
	// writes is its opening event, a few tens of kilobytes; the limit bounds what is held in
	// memory when the file is no journal at all.
	maxLine = 16 << 20

	suffixBegin = `,"c":"`
	suffixEnd   = `"}`
	suffixLen   = len(suffixBegin) + 8 + len(suffixEnd)
)

// castagnoli is CRC-32C, the check of iSCSI (RFC 3720, 12.1): like every check of 32 bits of
// its kind it finds each flipped bit and each burst of up to 32 bits, and most processors have
// an instruction for it.
var castagnoli = sync.OnceValue(func() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) })

// errPayload is matched by the error of [Journal.Append] when the payload is not one JSON
// object on one line. The journal itself is unharmed and takes the next payload.
var errPayload = errors.New("not a journal payload")

// checkPayload looks no further into the object than it must for the line to be one object
// on one line after the check has been put in.
func checkPayload(p []byte) error {
	n := len(p)
	switch {
	case n == 0:
		return fmt.Errorf("%w: empty, need a JSON object", errPayload)
	case p[0] != '{' || p[n-1] != '}' || n < 2:
		return fmt.Errorf("%w: runs from %q to %q, need a JSON object from '{' to '}'", errPayload, p[0], p[n-1])
	case bytes.IndexByte(p, '\n') >= 0:
		return fmt.Errorf("%w: line feed at byte %d, need one line", errPayload, bytes.IndexByte(p, '\n'))
	case !hasField(p[1 : n-1]):
		return fmt.Errorf("%w: object without a field, need at least one", errPayload)
	case n+suffixLen > maxLine: // '}' makes room for the line feed
		return fmt.Errorf("%w: %d bytes, must be at most %d", errPayload, n, maxLine-suffixLen)
	}
	return nil
}

// hasField tells whether the inside of an object begins like a field. In an empty one the
// check would stand after a comma that follows nothing.
func hasField(inside []byte) bool {
	inside = bytes.TrimLeft(inside, " \t\r")
	return len(inside) > 0 && inside[0] == '"' && bytes.IndexByte(inside, ':') > 0
}

// encode returns the line of a payload that checkPayload has passed, line feed included.
func encode(payload []byte) []byte {
	body := payload[:len(payload)-1]
	line := make([]byte, 0, len(body)+suffixLen+1)
	line = append(line, body...)
	line = appendSuffix(line, body)
	return append(line, '\n')
}

// appendSuffix appends the check of body and the end of the object to dst.
func appendSuffix(dst, body []byte) []byte {
	const digits = "0123456789abcdef"
	sum := crc32.Checksum(body, castagnoli())
	dst = append(dst, suffixBegin...)
	for shift := 28; shift >= 0; shift -= 4 {
		dst = append(dst, digits[sum>>shift&0xf])
	}
	return append(dst, suffixEnd...)
}

// decode returns a copy of the payload of a line without its line feed, or, when the line
// does not stand its check, nil and the reason.
func decode(line []byte) (payload []byte, why string) {
	cut := len(line) - suffixLen
	if cut < 0 {
		return nil, fmt.Sprintf("%d bytes, too short to hold a check", len(line))
	}
	body, suffix := line[:cut], line[cut:]
	var room [suffixLen]byte
	if want := appendSuffix(room[:0], body); !bytes.Equal(suffix, want) {
		return nil, mismatch(line, suffix, want)
	}
	payload = append(make([]byte, 0, cut+1), body...)
	payload = append(payload, '}')
	if err := checkPayload(payload); err != nil {
		return nil, err.Error()
	}
	return payload, ""
}

// mismatch says in what way the end of a line is wrong.
func mismatch(line, suffix, want []byte) string {
	digits := func(s []byte) []byte { return s[len(suffixBegin) : len(suffixBegin)+8] }
	if bytes.HasPrefix(suffix, []byte(suffixBegin)) && bytes.HasSuffix(suffix, []byte(suffixEnd)) {
		return fmt.Sprintf("check is %q, the line needs %q: it was changed after it was written", digits(suffix), digits(want))
	}
	if bytes.HasSuffix(line, []byte("\r")) {
		return "line ends in CR LF, must end in LF: another program has rewritten the file"
	}
	return fmt.Sprintf("line ends in %q, must end in a check such as %q", suffix, want)
}
