package journal

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
)

// Contents is what a journal holds, up to its end or to the first thing that is wrong.
type Contents struct {
	// Lines are the payloads, oldest first.
	Lines [][]byte
	// Torn are the bytes after the last line feed: a line that was cut off by a power cut,
	// or one that another program is writing at this moment.
	Torn []byte
	// Damage is the first line that fails its check; nothing behind it was read.
	Damage *DamageError

	sum uint32 // CRC-32C of the good lines, line feeds included
}

// Err returns the damage as an error, or nil when there is none. A torn tail is no error.
func (c Contents) Err() error {
	if c.Damage == nil {
		return nil
	}
	return c.Damage
}

// Read reads a journal without a lock and without changing anything, also while another
// program writes it. Damage is part of the answer, so that a replay can show what stands
// before it; the error is about opening and reading only, and comes with what had been read.
func Read(path string) (Contents, error) {
	f, err := openPlain(path)
	if err != nil {
		return Contents{}, err
	}
	got, _, err := scan(f, path, 0)
	return got, both(err, f.Close())
}

// ReadFrom is [Read] for a stream, such as standard input; name stands for the path in messages.
func ReadFrom(r io.Reader, name string) (Contents, error) {
	got, _, err := scan(r, name, 0)
	return got, err
}

// scan reads lines until the end or the first damage, each byte once; done is how many lines
// stand before r. end is how many bytes the good lines take, counted from where r stood.
func scan(r io.Reader, name string, done int) (got Contents, end int64, err error) {
	br := bufio.NewReaderSize(r, 64<<10)
	var long []byte
	for n := done + 1; ; n++ {
		var line []byte
		line, long, err = readLine(br, long[:0])
		switch {
		case errors.Is(err, errTooLong):
			got.Damage = &DamageError{Path: name, Line: n, Why: fmt.Sprintf("%d bytes and more, a line has at most %d", len(line), maxLine)}
			return got, end, nil
		case err == io.EOF:
			got.Torn = bytes.Clone(line)
			return got, end, nil
		case err != nil:
			return got, end, fmt.Errorf("%s: cannot read line %d: %w", name, n, err)
		case n == 1 && len(line) == 1 && atEnd(br):
			got.Torn = bytes.Clone(line) // an empty first line and nothing else: no journal yet
			return got, end, nil
		}
		payload, why := decode(line[:len(line)-1])
		if payload == nil {
			got.Damage = &DamageError{Path: name, Line: n, Why: why}
			return got, end, nil
		}
		got.Lines = append(got.Lines, payload)
		end += int64(len(line))
		got.sum = crc32.Update(got.sum, castagnoli(), line)
	}
}

func atEnd(br *bufio.Reader) bool {
	_, err := br.Peek(1)
	return err == io.EOF
}

var errTooLong = errors.New("line too long")

// readLine returns the next line with its line feed, or with [io.EOF] what stands at the end
// without one. The line is good until the next call. long is the caller's room for lines that
// do not fit the reader's buffer; it comes back, perhaps grown.
func readLine(br *bufio.Reader, long []byte) (line, room []byte, err error) {
	for {
		part, err := br.ReadSlice('\n')
		if len(long)+len(part) > maxLine {
			return append(long, part...), long, errTooLong
		}
		if err == nil && len(long) == 0 {
			return part, long, nil
		}
		long = append(long, part...)
		if err != bufio.ErrBufferFull {
			return long, long, err
		}
	}
}
