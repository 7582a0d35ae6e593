package page

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"net/http"
	"net/netip"
	"os"
	"strconv"
	"strings"
)

// account is the account of this machine that asks, where the system tells (proc(5),
// /proc/net/tcp).
func account(r *http.Request) (uid int, known bool) {
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil {
		return 0, false
	}
	for _, file := range []string{"/proc/net/tcp", "/proc/net/tcp6"} {
		table, err := os.ReadFile(file)
		if err != nil {
			continue
		}
		for line := range bytes.Lines(table) {
			fields := strings.Fields(string(line))
			const local, user = 1, 7
			if len(fields) <= user || !isAddress(fields[local], from) {
				continue
			}
			if uid, err := strconv.Atoi(fields[user]); err == nil {
				return uid, true
			}
		}
	}
	return 0, false
}

// isAddress compares with an address as the table writes it: words of the machine's
// order in hexadecimal, a colon, the port.
func isAddress(text string, a netip.AddrPort) bool {
	spell := func(ip []byte) string {
		var b strings.Builder
		for ; len(ip) >= 4; ip = ip[4:] {
			fmt.Fprintf(&b, "%08X", binary.NativeEndian.Uint32(ip))
		}
		return fmt.Sprintf("%s:%04X", b.String(), a.Port())
	}
	ip := a.Addr().WithZone("").Unmap()
	wide := ip.As16()
	return text == spell(ip.AsSlice()) || text == spell(wide[:])
}
