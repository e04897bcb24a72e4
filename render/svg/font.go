package svg

import (
	_ "embed"
	"encoding/base64"
	"sync"
)

//go:embed font/go-regular.woff2
var regular []byte

//go:embed font/go-bold.woff2
var bold []byte

// family is the name that the style sheet and the embedded fonts share. A
// reader that cannot use embedded fonts takes its own; textLength then keeps
// every text within its measured width.
const family = "Go"

// fontFaces are the rules that carry both weights inside the drawing.
var fontFaces = sync.OnceValue(func() string {
	return face(400, regular) + "\n" + face(700, bold)
})

func face(weight int, woff2 []byte) string {
	return `@font-face{font-family:` + family + `;font-weight:` + itoa(weight) +
		`;src:url(data:font/woff2;base64,` + base64.StdEncoding.EncodeToString(woff2) + `) format("woff2")}`
}
