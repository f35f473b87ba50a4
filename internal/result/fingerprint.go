package result

import (
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"strings"
)

// Fingerprint names a finding across audits: twelve hexadecimal digits (48 bits
// of SHA-256) of the check and the subject. Wording, grade and place are left
// out, so that a finding keeps its name while its text, its weight or its row
// number changes. The matter sets two findings of one check about one subject
// apart; "" leaves the name to check and subject alone.
func Fingerprint(check, subjectKind, subjectID, matter string) string {
	var b strings.Builder
	for _, part := range []string{check, subjectKind, subjectID, matter} {
		// The length in front keeps "a","bc" from "ab","c".
		b.WriteString(strconv.Itoa(len(part)))
		b.WriteByte(':')
		b.WriteString(part)
	}
	sum := sha256.Sum256([]byte(b.String()))
	return hex.EncodeToString(sum[:6])
}
