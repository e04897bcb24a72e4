// Reading and writing: the only file that touches the disk.
package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"strake/lang"
)

// craft reads and compiles the text that a verb was given; "-" is standard input.
func (e *env) craft(path string) (lang.Result, error) {
	text, err := e.read(path)
	if err != nil {
		return lang.Result{}, err
	}
	name := path
	if path == "-" {
		name = "standard input"
	}
	return lang.Compile(loader, name, text), nil
}

// loader brings the files that a text uses, for Compile. Paths are relative to the file that names them.
func loader(path string) (string, error) {
	text, err := os.ReadFile(path)
	return string(text), plain(err)
}

func (e *env) read(path string) (string, error) {
	if path == "-" {
		text, err := io.ReadAll(e.in)
		return string(text), plain(err)
	}
	text, err := os.ReadFile(path)
	return string(text), plain(err)
}

// plain turns a file error into words for someone who is no programmer.
func plain(err error) error {
	switch {
	case err == nil:
		return nil
	case os.IsNotExist(err):
		return fmt.Errorf("there is no file %s", pathOf(err))
	case os.IsPermission(err):
		return fmt.Errorf("%s may not be read or written by this user", pathOf(err))
	}
	return err
}

func pathOf(err error) string {
	if wrong, ok := err.(*os.PathError); ok {
		return wrong.Path
	}
	return "of that name"
}

// replace writes a file whole or not at all: to a temporary file beside it, then renamed.
func replace(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return fmt.Errorf("cannot write in folder %s: %w", filepath.Dir(path), plain(err))
	}
	defer os.Remove(f.Name()) // after the rename it is gone already
	_, err = f.Write(data)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return plain(err)
	}
	mode := os.FileMode(0o644)
	if old, err := os.Stat(path); err == nil {
		mode = old.Mode().Perm()
	}
	if err := os.Chmod(f.Name(), mode); err != nil {
		return plain(err)
	}
	return plain(os.Rename(f.Name(), path))
}

// beside is the default name of an output: the text's name with another ending.
func beside(path, ending string) string {
	return strings.TrimSuffix(path, filepath.Ext(path)) + ending
}
