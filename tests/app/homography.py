"""A homography of nine numbers, row by row, as the tours of the photo panel hold it against the camera."""


def through(h, x, y):
    w = h[6] * x + h[7] * y + h[8]
    return (h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w
