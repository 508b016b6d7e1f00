package kb

import (
	"embed"
	"io/fs"
)

//go:embed articles/*.md articles/more-asks.yaml
var articleFolder embed.FS

// Articles returns the articles that come with the program.
func Articles() fs.FS {
	sub, err := fs.Sub(articleFolder, "articles")
	if err != nil {
		panic(err) // only if "articles" were no valid path
	}
	return Named("kb/articles", sub)
}

// Named gives a folder the name by which messages call it, so that they read
// "practice/articles/x.md:3: …" and not only "x.md:3: …".
func Named(name string, fsys fs.FS) fs.FS { return namedFolder{FS: fsys, name: name} }

type namedFolder struct {
	fs.FS
	name string
}

func layerName(fsys fs.FS) string {
	if n, ok := fsys.(namedFolder); ok {
		return n.name
	}
	return ""
}
