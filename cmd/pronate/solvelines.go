package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
)

// lineErrors prints one JSON object for every line that could not be solved.
type lineErrors struct {
	out   io.Writer
	count int
}

func (e *lineErrors) add(line int, err error) {
	e.count++
	text, marshalErr := json.Marshal(struct {
		Line  int    `json:"line"`
		Error string `json:"error"`
	}{line, err.Error()})
	if marshalErr == nil {
		fmt.Fprintf(e.out, "%s\n", text)
	}
}

// longestLine bounds what one line may hold: 32 segments with their shares
// take a few kilobytes.
const longestLine = 1 << 20

// byteOrderMark is what some programs begin a text in UTF-8 with.
var byteOrderMark = []byte("\uFEFF")

// eachLine calls f for every line that is not blank, until f fails; text is good
// until the next call. A line over the limit is an error of that line, and what
// follows is read on.
func eachLine(in io.Reader, failures *lineErrors, f func(line int, text []byte) error) error {
	reader := bufio.NewReaderSize(in, 1<<16)
	var long []byte
	for line := 1; ; line++ {
		var err error
		var tooLong bool
		long, tooLong, err = readLine(reader, long[:0])
		if err != nil && err != io.EOF {
			return err
		}
		if line == 1 {
			long = bytes.TrimPrefix(long, byteOrderMark)
		}
		switch text := bytes.TrimSpace(long); {
		case tooLong:
			failures.add(line, fmt.Errorf("line of over %d bytes", longestLine))
		case len(text) > 0:
			if err := f(line, text); err != nil {
				return err
			}
		}
		if err == io.EOF {
			return nil
		}
	}
}

// readLine appends a line to into, as much of it as is allowed.
func readLine(reader *bufio.Reader, into []byte) (line []byte, tooLong bool, err error) {
	for {
		part, err := reader.ReadSlice('\n')
		if len(into)+len(part) > longestLine {
			tooLong = true
		} else {
			into = append(into, part...)
		}
		if err != bufio.ErrBufferFull {
			return into, tooLong, err
		}
	}
}
