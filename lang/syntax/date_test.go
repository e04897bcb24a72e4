package syntax

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestYearFirst(t *testing.T) {
	for text, want := range map[string]string{
		"20.11.2026": "2026-11-20",
		"11-20-2026": "2026-11-20",
		"5.5.2026":   "2026-05-05",
		"5.11.2026":  "", // two readings
		"31.02.2026": "", // no day
		"20.13.2026": "",
		"0.5.2026":   "",
		"20.11":      "",
		"yesterday":  "",
	} {
		assert.Equal(t, want, yearFirst(text), text)
	}
}
