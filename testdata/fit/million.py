"""The fit of `trammel fit --reference-radius RHO --reach T FILE`, or of `trammel fit --points FILE`, by numpy.

    python3 million.py readings RHO T FILE
    python3 million.py points FILE

FILE holds two numbers a line, parted by spaces. What the program does with a file of a million lines is measured
against this: go run .ci/against/main.go.

Readings: Gauss-Newton on the exact distance d(t) = e.u + sqrt(rho^2 - (e.v)^2) of a bore. Points: Gauss-Newton on the
orthogonal distance from the algebraic circle.
"""

import sys

import numpy as np


def answer(names, p, jacobian, residual):
    """Prints the unknowns and their standard uncertainties."""
    sigma2 = residual @ residual / (len(residual) - len(p))
    u = np.sqrt(sigma2 * np.diag(np.linalg.inv(jacobian.T @ jacobian)))
    for name, value, doubt in zip(names, p, u):
        print(name, repr(float(value)), repr(float(doubt)))


def readings(rho, reach, name):
    angle, reading = np.loadtxt(name, unpack=True)
    t = np.radians(angle)
    c, s = np.cos(t), np.sin(t)
    z, x, y = rho + reading.mean(), 0.0, 0.0
    for _ in range(20):
        across = y * c - x * s
        half = np.sqrt(rho**2 - across**2)
        residual = z - reading - (x * c + y * s + half)
        k = across / half
        jacobian = np.column_stack([-np.ones_like(c), c + k * s, s - k * c])
        step = np.linalg.solve(jacobian.T @ jacobian, jacobian.T @ residual)
        z, x, y = z + step[0], x + step[1], y + step[2]
        if np.abs(step).max() < 1e-12 * rho:
            break
    answer(["swing", "x", "y"], [z - reach, x, y], jacobian, residual)


def points(name):
    px, py = np.loadtxt(name, unpack=True)
    mx, my = px.mean(), py.mean()
    px, py = px - mx, py - my
    a = np.column_stack([2 * px, 2 * py, np.ones_like(px)])
    x, y, c = np.linalg.solve(a.T @ a, a.T @ (px**2 + py**2))
    r = np.sqrt(c + x * x + y * y)
    for _ in range(50):
        dx, dy = px - x, py - y
        d = np.hypot(dx, dy)
        residual = d - r
        jacobian = np.column_stack([np.ones_like(d), dx / d, dy / d])
        step = np.linalg.solve(jacobian.T @ jacobian, jacobian.T @ residual)
        r, x, y = r + step[0], x + step[1], y + step[2]
        if np.abs(step).max() < 1e-12 * r:
            break
    answer(["radius", "x", "y"], [r, x + mx, y + my], jacobian, residual)


if sys.argv[1:2] == ["readings"] and len(sys.argv) == 5:
    readings(float(sys.argv[2]), float(sys.argv[3]), sys.argv[4])
elif sys.argv[1:2] == ["points"] and len(sys.argv) == 3:
    points(sys.argv[2])
else:
    sys.exit(__doc__)
