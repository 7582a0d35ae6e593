package page

import (
	"io/fs"
	"net/http"
	"path"

	"fewtubes/testdata"
)

// showDemoPicture is a picture of the salt marsh, for the first start to show before
// there is a scene.
func showDemoPicture(w http.ResponseWriter, r *http.Request) {
	data, err := fs.ReadFile(testdata.Pictures, path.Join("salt-marsh", r.PathValue("file")))
	if err != nil {
		fail(w, &trouble{http.StatusNotFound, "there is no such picture"})
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, max-age=86400")
	_, _ = w.Write(data)
}
