package label

import (
	"bytes"
	"encoding/binary"
	"image"
)

// orientation is how a photograph must be turned to stand upright, by the number of its EXIF tag 0x0112 (JEITA CP-3451,
// TIFF 6.0 "Orientation"); 1 when it says nothing.
func orientation(data []byte) int {
	const tag, most = 0x0112, 64 << 10
	head := data[:min(len(data), most)]
	at := bytes.Index(head, []byte("Exif\x00\x00"))
	if at < 0 {
		return 1
	}
	tiff := head[at+6:]
	var order binary.ByteOrder = binary.LittleEndian
	switch {
	case bytes.HasPrefix(tiff, []byte("MM")):
		order = binary.BigEndian
	case !bytes.HasPrefix(tiff, []byte("II")):
		return 1
	}
	if len(tiff) < 8 {
		return 1
	}
	list := int(order.Uint32(tiff[4:]))
	if list < 0 || list+2 > len(tiff) {
		return 1
	}
	n := int(order.Uint16(tiff[list:]))
	for i := range n {
		entry := list + 2 + 12*i
		if entry+12 > len(tiff) {
			break
		}
		if order.Uint16(tiff[entry:]) == tag {
			if v := int(order.Uint16(tiff[entry+8:])); v >= 1 && v <= 8 {
				return v
			}
		}
	}
	return 1
}

// upright turns a picture by its orientation. Mirrored ones (2, 4, 5, 7) do not come from cameras and are turned only.
func upright(img image.Image, orientation int) image.Image {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	var out *image.RGBA
	var place func(x, y int) (int, int)
	switch orientation {
	case 3, 4:
		out, place = image.NewRGBA(image.Rect(0, 0, w, h)), func(x, y int) (int, int) { return w - 1 - x, h - 1 - y }
	case 5, 6:
		out, place = image.NewRGBA(image.Rect(0, 0, h, w)), func(x, y int) (int, int) { return h - 1 - y, x }
	case 7, 8:
		out, place = image.NewRGBA(image.Rect(0, 0, h, w)), func(x, y int) (int, int) { return y, w - 1 - x }
	default:
		return img
	}
	for y := range h {
		for x := range w {
			px, py := place(x, y)
			out.Set(px, py, img.At(b.Min.X+x, b.Min.Y+y))
		}
	}
	return out
}
