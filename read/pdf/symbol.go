package pdf

// symbolFont gives the meaning of codes of the Symbol font, whose characters many files leave in the private use area
// (U+F000 + code). Source: Adobe, "Symbol Set and Encoding", PDF 32000-1, annex D.5. Only what occurs in running text.
var symbolFont = map[byte]rune{
	0x20: ' ', 0x25: '%', 0x28: '(', 0x29: ')', 0x2b: '+', 0x2c: ',', 0x2d: '−', 0x2e: '.', 0x2f: '/',
	0x30: '0', 0x31: '1', 0x32: '2', 0x33: '3', 0x34: '4', 0x35: '5', 0x36: '6', 0x37: '7', 0x38: '8', 0x39: '9',
	0x3a: ':', 0x3b: ';', 0x3c: '<', 0x3d: '=', 0x3e: '>', 0x44: 'Δ', 0x57: 'Ω',
	0x61: 'α', 0x62: 'β', 0x63: 'χ', 0x64: 'δ', 0x65: 'ε', 0x67: 'γ', 0x68: 'η', 0x6b: 'κ', 0x6c: 'λ', 0x6d: 'μ',
	0x6e: 'ν', 0x70: 'π', 0x71: 'θ', 0x72: 'ρ', 0x73: 'σ', 0x74: 'τ', 0x77: 'ω', 0x7e: '∼',
	0xa3: '≤', 0xa5: '∞', 0xae: '→', 0xac: '←', 0xb0: '°', 0xb1: '±', 0xb3: '≥', 0xb4: '×', 0xb7: '•', 0xb8: '÷',
	0xb9: '≠', 0xbb: '≈', 0xd2: '®', 0xd3: '©', 0xd4: '™', 0xd7: '⋅', 0xe2: '®', 0xe3: '©', 0xe4: '™',
}

// bullets are codes under which symbol fonts of word processors keep their list marks (common practice).
var bullets = map[byte]bool{0x6c: true, 0x6e: true, 0x71: true, 0x76: true, 0x9f: true, 0xa7: true, 0xa8: true, 0xb7: true, 0xd8: true, 0xe0: true}

// symbolLatin are characters that a Symbol font does not have; where a file gives them to one, it has taken the code of
// the font for one of Latin-1. "£ 5 %" is "≤ 5 %".
var symbolLatin = map[rune]rune{'£': '≤', '³': '≥', '¥': '∞', 'Ò': '®', 'Ó': '©', 'Ô': '™', 'â': '®', 'ã': '©', 'ä': '™', '¹': '≠', '»': '≈'}
