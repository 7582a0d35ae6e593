package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"io/fs"
	"time"
)

// entry is a file within an archive.
type entry struct {
	name string // with slashes
	mode fs.FileMode
	data []byte
}

// tarGzip packs entries in the order of their names, all of one time and of no owner.
func tarGzip(entries []entry, at time.Time) ([]byte, error) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	t := tar.NewWriter(z)
	for _, e := range inOrder(entries) {
		header := &tar.Header{Name: e.name, Mode: int64(e.mode), Size: int64(len(e.data)), ModTime: at, Format: tar.FormatUSTAR}
		if err := t.WriteHeader(header); err != nil {
			return nil, err
		}
		if _, err := t.Write(e.data); err != nil {
			return nil, err
		}
	}
	if err := t.Close(); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// zipped is tarGzip for systems that open ZIP files.
func zipped(entries []entry, at time.Time) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, e := range inOrder(entries) {
		header := &zip.FileHeader{Name: e.name, Method: zip.Deflate, Modified: at.UTC()}
		header.SetMode(e.mode)
		w, err := z.CreateHeader(header)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(e.data); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}
