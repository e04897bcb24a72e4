package svg

import (
	"crypto/sha256"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// The packed fonts were made from these very files, with which text is
// measured. When the module brings others, make the fonts anew (font/README.md)
// and state the new sums here.
func TestFontsAreThoseMeasured(t *testing.T) {
	for name, c := range map[string]struct {
		ttf    []byte
		expect string
	}{
		"regular": {goregular.TTF, "197d9f3703b4c00af609178876a8d73e396f64fe438b2c871778566632374be3"},
		"bold":    {gobold.TTF, "c18494baa7ea35b8dbfac3861787d360b9c0ab91232562371a09e6fbf09aaa40"},
	} {
		sum := sha256.Sum256(c.ttf)
		assert.Equal(t, c.expect, fmt.Sprintf("%x", sum), name)
	}
	assert.Equal(t, "wOF2", string(regular[:4]))
	assert.Equal(t, "wOF2", string(bold[:4]))
	assert.NotEqual(t, regular, bold)
}
