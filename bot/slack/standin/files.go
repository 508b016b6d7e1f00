package standin

import (
	"encoding/json"
	"io"
	"net/http"
	"strconv"
	"strings"
)

func (w *Workspace) uploadURL(a args) (map[string]any, string) {
	size, err := strconv.Atoi(a.str("length"))
	if err != nil || size <= 0 || a.str("filename") == "" {
		w.refuse("files.getUploadURLExternal", "filename and length above 0 are needed")
		return nil, "invalid_arguments"
	}
	if len([]rune(a.str("alt_txt"))) > 1000 {
		w.refuse("files.getUploadURLExternal", "alternative text over 1,000 characters")
		return nil, "alt_txt_too_large"
	}
	f := &File{Name: a.str("filename"), Alt: a.str("alt_txt"), Size: size}
	w.change(func() {
		f.ID = w.name("F")
		w.tickets[f.ID] = f
	})
	return map[string]any{"upload_url": "http://" + w.host + "/upload/" + f.ID, "file_id": f.ID}, ""
}

// upload takes a file's content.
func (w *Workspace) upload(rw http.ResponseWriter, r *http.Request) {
	if w.faulty(rw, "upload") {
		return
	}
	part, _, err := r.FormFile("file")
	if err != nil {
		w.refuse("upload", "no file in the request")
		http.Error(rw, "no file", http.StatusBadRequest)
		return
	}
	defer part.Close()
	content, err := io.ReadAll(io.LimitReader(part, 16<<20))
	id := strings.TrimPrefix(r.URL.Path, "/upload/")
	known := false
	w.change(func() {
		if f := w.tickets[id]; f != nil && err == nil {
			f.Content, known = content, len(content) == f.Size
		}
	})
	if !known {
		w.refuse("upload", "unknown file, or its length is not what was announced")
		http.Error(rw, "bad upload", http.StatusBadRequest)
		return
	}
	_, _ = io.WriteString(rw, "OK")
}

func (w *Workspace) completeUpload(a args) (map[string]any, string) {
	var list []struct{ ID, Title string }
	if err := json.Unmarshal(a["files"], &list); err != nil || len(list) == 0 {
		w.refuse("files.completeUploadExternal", "no files")
		return nil, "invalid_arguments"
	}
	if contains(w.o.Outside, a.str("channel_id")) {
		return nil, "not_in_channel"
	}
	var done []map[string]string
	code := ""
	w.change(func() {
		for _, item := range list {
			f := w.tickets[item.ID]
			if f == nil || f.Content == nil {
				code = "file_not_found"
				return
			}
			f.Title, f.Channel, f.Thread, f.Comment = item.Title, a.str("channel_id"), a.str("thread_ts"), a.str("initial_comment")
			w.files = append(w.files, *f)
			delete(w.tickets, item.ID)
			done = append(done, map[string]string{"id": f.ID, "title": f.Title})
		}
	})
	return map[string]any{"files": done}, code
}
