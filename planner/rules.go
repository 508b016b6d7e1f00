package planner

import (
	"embed"
	"io/fs"
)

//go:embed rules/*.yaml rules/words/*.yaml
var embedded embed.FS

// Rules is the built-in set of rule files, for [Load].
func Rules() fs.FS {
	sub, err := fs.Sub(embedded, "rules")
	if err != nil {
		panic(err) // the folder is part of the program
	}
	return sub
}
