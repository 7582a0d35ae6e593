package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"os"
)

const noticesFile = "cmd/fewtubes/internal/notices/NOTICES.txt.gz"

func main() {
	folder := flag.String("o", "bin/release", "write the archives into `FOLDER`")
	anew := flag.Bool("notices", false, "write the notices of all that is inside, and nothing else")
	flag.Parse()
	err := func() error {
		if *anew {
			return writeNotices()
		}
		made, err := release(".", *folder)
		if err == nil {
			fmt.Println(made)
		}
		return err
	}()
	if err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

func writeNotices() error {
	text, err := gather(".")
	if err != nil {
		return err
	}
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := z.Write([]byte(text)); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	return os.WriteFile(noticesFile, b.Bytes(), 0o644)
}
