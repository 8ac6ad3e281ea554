"""The finished kilt as a picture: woven cloth, correct to the thread."""

from pleatwright.picture.back import back_picture, back_view
from pleatwright.picture.cloth_raster import tartan_picture, woven
from pleatwright.picture.front import apron_edges, front_picture, front_view
from pleatwright.picture.vector import Patch, back_vector, front_vector
from pleatwright.picture.view import PAPER, View, png_bytes
from pleatwright.picture.words import alt_text

__all__ = [
    "PAPER",
    "Patch",
    "View",
    "alt_text",
    "apron_edges",
    "back_picture",
    "back_vector",
    "back_view",
    "front_picture",
    "front_vector",
    "front_view",
    "png_bytes",
    "tartan_picture",
    "woven",
]
