package kept

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"fewtubes/cmd/fewtubes/internal/infile"
)

// Bounds of a table.
const (
	MostScene   = 1 << 20 // bytes of a scene as the page has it
	mostActs    = 100     // that can be taken back or done again
	mostHistory = 4 << 20 // bytes of the scenes they lead to
	mostOpened  = 4 << 20 // bytes of a scene file
	mostTable   = 2 * (MostScene + mostHistory + mostOpened)
)

// act is what was done, and the scene its undoing leads to.
type act struct {
	Words string          `json:"words"`
	Scene json.RawMessage `json:"scene"`
}

// table is a revision of a scene with the acts before and after it.
type table struct {
	Format   int             `json:"format"`
	Revision int             `json:"revision"`
	Scene    json.RawMessage `json:"scene"`
	Past     []act           `json:"past,omitempty"` // taken back from the end
	Next     []act           `json:"next,omitempty"` // done again from the end
	Opened   string          `json:"opened,omitempty"`
	Text     string          `json:"text,omitempty"`   // hash of the scene file
	Before   string          `json:"before,omitempty"` // hash of the one it took the place of
	Note     string          `json:"note,omitempty"`   // what became of the file of another
}

const tableFormat = 1

// bounded drops what was done first, until the acts that stay are few enough.
func (t *table) bounded() {
	size := 0
	for _, list := range [][]act{t.Past, t.Next} {
		for _, a := range list {
			size += len(a.Scene)
		}
	}
	for len(t.Past)+len(t.Next) > mostActs || size > mostHistory {
		list := &t.Past
		if len(*list) == 0 {
			list = &t.Next
		}
		size -= len((*list)[0].Scene)
		*list = (*list)[1:]
	}
}

func (t *table) encode() ([]byte, error) {
	data, err := json.Marshal(t)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	if err != nil {
		return nil, err
	}
	_, err = w.Write(data)
	err = errors.Join(err, w.Close())
	return b.Bytes(), err
}

var errTable = errors.New("it is no table of this program")

// decode reads what encode wrote and refuses anything else.
func decode(data []byte) (*table, error) {
	r, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, errTable
	}
	plain, err := io.ReadAll(io.LimitReader(r, mostTable+1))
	if err != nil || len(plain) > mostTable {
		return nil, errTable
	}
	var t table
	if err := json.Unmarshal(plain, &t); err != nil {
		return nil, errTable
	}
	if t.Format != tableFormat || t.Revision < 1 || t.Revision > mostRevision || len(t.Past)+len(t.Next) > mostActs || !isScene(t.Scene) {
		return nil, errTable
	}
	for _, list := range [][]act{t.Past, t.Next} {
		for _, a := range list {
			if !isScene(a.Scene) {
				return nil, errTable
			}
		}
	}
	return &t, nil
}

func isScene(raw json.RawMessage) bool {
	return len(raw) <= MostScene && bytes.HasPrefix(raw, []byte("{"))
}

const mostRevision = 1 << 40

func tableName(revision int) string { return fmt.Sprintf("table-%d.gz", revision) }

// revisionOf reads the name of a table, 0 for other files.
func revisionOf(name string) int {
	digits, ok := strings.CutPrefix(name, "table-")
	digits, gz := strings.CutSuffix(digits, ".gz")
	n, err := strconv.Atoi(digits)
	if !ok || !gz || err != nil || n < 1 || n > mostRevision || tableName(n) != name {
		return 0
	}
	return n
}

// newest reads the table with the highest revision that can be read, and when it
// was written. Without any the error wraps fs.ErrNotExist.
func newest(folder string) (*table, time.Time, error) {
	highest, err := highestRevision(folder)
	if err != nil {
		return nil, time.Time{}, err
	}
	for n := highest; n > 0; n = lower(folder, n) {
		path := filepath.Join(folder, tableName(n))
		data, err := infile.Read(path, mostTable)
		if err != nil {
			continue
		}
		if t, err := decode(data); err == nil && t.Revision == n {
			info, err := os.Stat(path)
			if err != nil {
				return nil, time.Time{}, err
			}
			return t, info.ModTime(), nil
		}
	}
	return nil, time.Time{}, fs.ErrNotExist
}

func highestRevision(folder string) (int, error) {
	entries, err := os.ReadDir(folder)
	highest := 0
	for _, e := range entries {
		highest = max(highest, revisionOf(e.Name()))
	}
	return highest, err
}

// lower is the highest revision below n.
func lower(folder string, n int) int {
	entries, _ := os.ReadDir(folder)
	out := 0
	for _, e := range entries {
		if r := revisionOf(e.Name()); r < n {
			out = max(out, r)
		}
	}
	return out
}

// sum is the hash of a scene file, empty for none.
func sum(text []byte) string {
	if text == nil {
		return ""
	}
	h := sha256.Sum256(text)
	return hex.EncodeToString(h[:])
}
