package main

import (
	"flag"
	"fmt"
	"os"
)

const noticesFile = "cmd/fewtubes/internal/notices/NOTICES.txt"

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
	return os.WriteFile(noticesFile, []byte(text), 0o644)
}
