package adapt

import (
	"math"
	"strconv"
	"strings"
)

// dataDigits is how exactly path data is written: no rule measures it, the pattern shows it, and a
// thousandth of either unit is finer than a line is drawn.
const dataDigits = 3

// arguments is how many numbers a command of path data takes (SVG 1.1, 8.3).
var arguments = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

// scaled multiplies all lengths of path data; the turn and the two flags of an arc are none. False
// where it cannot be read.
func scaled(data string, by float64) (string, bool) {
	var b strings.Builder
	var command byte
	n := 0 // numbers read behind the command
	for i := 0; i < len(data); {
		c := data[i]
		switch {
		case strings.IndexByte(" ,\t\r\n", c) >= 0:
			b.WriteByte(c)
			i++
		case c|0x20 >= 'a' && c|0x20 <= 'z' && c != 'e' && c != 'E':
			command, n = c&^0x20, 0
			if _, known := arguments[command]; !known {
				return "", false
			}
			b.WriteByte(c)
			i++
		default:
			per := arguments[command]
			if per == 0 {
				return "", false
			}
			at := n % per
			n++
			if command == 'A' && (at == 3 || at == 4) {
				b.WriteByte(c)
				i++
				continue
			}
			end := numberEnd(data, i)
			x, err := strconv.ParseFloat(data[i:end], 64)
			if err != nil {
				return "", false
			}
			if command == 'A' && at == 2 {
				b.WriteString(data[i:end])
			} else {
				ten := math.Pow(10, dataDigits)
				text := strconv.FormatFloat(math.Round(x*by*ten)/ten+0, 'f', -1, 64)
				if s := b.String(); s != "" && (s[len(s)-1] >= '0' && s[len(s)-1] <= '9' || s[len(s)-1] == '.') && text[0] != '-' {
					b.WriteByte(' ') // 1.5.5 is two numbers, and what they become need not be
				}
				b.WriteString(text)
			}
			i = end
		}
	}
	return b.String(), true
}

// numberEnd is the end of the number that begins at i.
func numberEnd(s string, i int) int {
	end, point, exp := i, false, false
	if end < len(s) && (s[end] == '-' || s[end] == '+') {
		end++
	}
	for end < len(s) {
		switch c := s[end]; {
		case c >= '0' && c <= '9':
		case c == '.' && !point && !exp:
			point = true
		case (c == 'e' || c == 'E') && !exp:
			exp = true
			if end+1 < len(s) && (s[end+1] == '-' || s[end+1] == '+') {
				end++
			}
		default:
			return end
		}
		end++
	}
	return end
}
