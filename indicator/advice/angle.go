package advice

import "math"

// Angle returns the angle, and its standard uncertainty, that explains off best where the centre moves
// by h a radian: least squares weighed by the noise (mm²), to which the doubt of another slide adds, by whose angle the centre
// moves by other a radian.
func Angle(h, other [2]float64, doubt float64, noise [2][2]float64, off [2]float64) (a, u float64) {
	for i := range noise {
		for j := range noise[i] {
			noise[i][j] += float64(float64(other[i]*other[j]) * float64(doubt*doubt))
		}
	}
	det := float64(noise[0][0]*noise[1][1]) - float64(noise[0][1]*noise[1][0])
	w := [2]float64{ // h · noise⁻¹
		(float64(noise[1][1]*h[0]) - float64(noise[0][1]*h[1])) / det,
		(float64(noise[0][0]*h[1]) - float64(noise[1][0]*h[0])) / det,
	}
	info := float64(w[0]*h[0]) + float64(w[1]*h[1])
	return (float64(w[0]*off[0]) + float64(w[1]*off[1])) / info, 1 / math.Sqrt(info)
}
