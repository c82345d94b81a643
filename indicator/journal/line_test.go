package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"strings"
	"testing"
)

// slowCRC32C counts the check bit by bit from its definition (RFC 3720, 12.1: polynomial
// 0x1EDC6F41, here with its bits in reverse order, register begun and ended with all ones),
// and shares nothing with the table that the package uses.
func slowCRC32C(data []byte) uint32 {
	reg := ^uint32(0)
	for _, b := range data {
		for bit := range 8 {
			in := reg&1 ^ uint32(b>>bit)&1
			reg >>= 1
			if in == 1 {
				reg ^= 0x82F63B78
			}
		}
	}
	return ^reg
}

// TestChecksumVectors: RFC 3720, appendix B.4 (its bytes of the check are in the order sent,
// lowest first); the last one is the check value of CRC-32C in the Rocksoft model, posted on
// the IP Storage mailing list when the iSCSI check was settled ("Nailing down CRC-32C").
func TestChecksumVectors(t *testing.T) {
	ascending := make([]byte, 32)
	for i := range ascending {
		ascending[i] = byte(i)
	}
	for _, c := range []struct {
		name string
		data []byte
		want uint32
	}{
		{"32 bytes of zeroes", make([]byte, 32), 0x8a9136aa},
		{"32 bytes of ones", bytes.Repeat([]byte{0xff}, 32), 0x62a8ab43},
		{"32 bytes ascending", ascending, 0x46dd794e},
		{"123456789", []byte("123456789"), 0xe3069283},
	} {
		if got := crc32.Checksum(c.data, castagnoli()); got != c.want {
			t.Errorf("%s: check %08x, want %08x", c.name, got, c.want)
		}
		if got := slowCRC32C(c.data); got != c.want {
			t.Errorf("%s: check from the definition %08x, want %08x", c.name, got, c.want)
		}
	}
}

// TestGoldenLines pins the bytes on disk for good: a journal written today must be readable
// by every later version. The checks were counted by polynomial long division of the payload
// without its final brace, in another language.
func TestGoldenLines(t *testing.T) {
	for _, c := range []struct{ payload, line string }{
		{`{"a":1}`, `{"a":1,"c":"149cdbb2"}` + "\n"},
		{
			`{"v":1,"n":17,"t":"2025-03-04T09:12:00Z","k":"reading","d":{"at":45,"is":-0.125}}`,
			`{"v":1,"n":17,"t":"2025-03-04T09:12:00Z","k":"reading","d":{"at":45,"is":-0.125},"c":"b2fdfdd6"}` + "\n",
		},
		{`{"n":0,"d":{"say":"±0.02 mm Ø"}}`, `{"n":0,"d":{"say":"±0.02 mm Ø"},"c":"041ff4db"}` + "\n"}, // leading zero kept
		{`{"c":"149cdbb2"}`, `{"c":"149cdbb2","c":"23be1d3d"}` + "\n"},                                 // only the last one is the check
	} {
		path := tempPath(t)
		j := mustCreate(t, path)
		mustAppend(t, j, []byte(c.payload))
		mustClose(t, j)
		if got := content(t, path); string(got) != c.line {
			t.Errorf("line of %s = %q, want %q", c.payload, got, c.line)
		}
		put(t, path, []byte(c.line))
		got, err := Read(path)
		if err != nil || got.Err() != nil {
			t.Fatalf("golden line %q: %v, %v", c.line, err, got.Err())
		}
		wantLines(t, "golden", got.Lines, [][]byte{[]byte(c.payload)})
	}
}

func TestLineIsJSON(t *testing.T) {
	for _, p := range sixPayloads() {
		var fields map[string]any
		if err := json.Unmarshal(encode(p), &fields); err != nil {
			t.Fatalf("line of %s: %v", p, err)
		}
		if want := fmt.Sprintf("%08x", slowCRC32C(p[:len(p)-1])); fields["c"] != want {
			t.Errorf("line of %s: check %v, want %v", p, fields["c"], want)
		}
	}
}

func TestPayloadRefused(t *testing.T) {
	for _, c := range []struct{ name, payload, why string }{
		{"empty", "", "empty, need"},
		{"array", `[1]`, `from '[' to ']'`},
		{"one brace", `{`, `from '{' to '{'`},
		{"other brace", `}`, `from '}' to '}'`},
		{"space before", ` {"a":1}`, `from ' '`},
		{"space behind", `{"a":1} `, `to ' '`},
		{"line feed inside", "{\"a\":\n1}", "line feed at byte 5"},
		{"line feed behind", "{\"a\":1}\n", `to '\n'`},
		{"no field", `{}`, "without a field"},
		{"no field, spaces", "{ \t }", "without a field"},
		{"not a field", `{1}`, "without a field"},
		{"a lone quote", `{"}`, "without a field"},
		{"too long", `{"a":"` + strings.Repeat("x", maxLine-suffixLen-7) + `"}`, "must be at most 16777200"},
	} {
		path := tempPath(t)
		j := mustCreate(t, path)
		err := j.Append([]byte(c.payload))
		if !errors.Is(err, errPayload) || !strings.Contains(fmt.Sprint(err), c.why) {
			t.Errorf("%s: error %v, want errPayload with %q", c.name, err, c.why)
		}
		if got := content(t, path); len(got) != 0 {
			t.Errorf("%s: %q was written, want nothing", c.name, got)
		}
		mustAppend(t, j, []byte(`{"a":1}`)) // a refusal does not stop the journal
		mustClose(t, j)
	}
}

// TestLongLines: lengths round the reader's buffer of 64 KiB, and the longest line there may be.
func TestLongLines(t *testing.T) {
	path := tempPath(t)
	j := mustCreate(t, path)
	var want [][]byte
	for _, length := range []int{64<<10 - 1, 64 << 10, 64<<10 + 1, 128 << 10, maxLine} {
		long := []byte(`{"a":"` + strings.Repeat("x", length-suffixLen-8) + `"}`)
		if got := len(encode(long)); got != length {
			t.Fatalf("line has %d bytes, want %d", got, length)
		}
		want = append(want, long, []byte(`{"a":1}`))
		mustAppend(t, j, long, []byte(`{"a":1}`))
	}
	mustClose(t, j)
	got, err := Read(path)
	if err != nil || got.Err() != nil || len(got.Torn) != 0 {
		t.Fatal(err, got.Err(), len(got.Torn))
	}
	wantLines(t, "long", got.Lines, want)
}

// TestEveryBitFlip turns each bit of the last of three lines, and of the middle one. A flip is
// found when the line is refused by number; a flip of the very last line feed makes a tear.
func TestEveryBitFlip(t *testing.T) {
	first, second, third := encode([]byte(`{"n":1}`)), encode(sixPayloads()[1]), encode(sixPayloads()[4])
	for _, c := range []struct {
		name       string
		begin, end int
		line       int
	}{
		{"middle", len(first), len(first) + len(second), 2},
		{"last", len(first) + len(second), len(first) + len(second) + len(third), 3},
	} {
		data := bytes.Join([][]byte{first, second, third}, nil)
		for bit := c.begin * 8; bit < c.end*8; bit++ {
			data[bit/8] ^= 1 << (bit % 8)
			got, err := ReadFrom(bytes.NewReader(data), "flipped")
			data[bit/8] ^= 1 << (bit % 8)
			if err != nil {
				t.Fatal(err)
			}
			if bit/8 == len(data)-1 {
				if got.Damage != nil || len(got.Torn) != len(third) || len(got.Lines) != 2 {
					t.Errorf("%s line, last line feed flipped: torn %d, damage %v, want %d torn", c.name, len(got.Torn), got.Damage,
						len(third))
				}
				continue
			}
			if got.Damage == nil || got.Damage.Line != c.line || len(got.Lines) != c.line-1 {
				t.Errorf("%s line, bit %d of byte %d flipped: damage %v, want line %d", c.name, bit%8, bit/8-c.begin, got.Damage, c.line)
			}
		}
	}
}

func TestDamageReasons(t *testing.T) {
	good := string(encode([]byte(`{"a":1}`))) // {"a":1,"c":"149cdbb2"}
	sealed := func(body string) string { return string(appendSuffix([]byte(body), []byte(body))) + "\n" }
	for _, c := range []struct{ name, line, why string }{
		{"upper-case digits", strings.Replace(good, "149cdbb2", "149CDBB2", 1), `check is "149CDBB2", the line needs "149cdbb2"`},
		{"upper-case name", strings.Replace(good, `"c"`, `"C"`, 1), `must end in a check such as`},
		{"changed value", strings.Replace(good, "1,", "2,", 1), `it was changed after it was written`},
		{"space added", strings.Replace(good, `"}`, `" }`, 1), `must end in a check such as`},
		{"no check", "{\"what\":\"reading\",\"value\":-0.326}\n", `must end in a check such as`},
		{"empty line", "\n", "0 bytes, too short"},
		{"carriage return", strings.Replace(good, "\n", "\r\n", 1), "CR LF"},
		{"checked but no object", sealed("plate"), "need a JSON object"},
		{"checked but no field", sealed("{"), "without a field"},
	} {
		got, err := ReadFrom(strings.NewReader(good+c.line), "plate.journal")
		if err != nil || got.Damage == nil {
			t.Fatalf("%s: error %v, damage %v, want damage", c.name, err, got.Damage)
		}
		if got.Damage.Line != 2 || !strings.Contains(got.Damage.Why, c.why) {
			t.Errorf("%s: %v, want line 2 and %q", c.name, got.Damage, c.why)
		}
		wantLines(t, c.name, got.Lines, [][]byte{[]byte(`{"a":1}`)})
	}
}
