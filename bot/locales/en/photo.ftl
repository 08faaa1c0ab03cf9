# Photos that are not taken, wherever they come from.

photo-refused-size = This is too much at once: a photo may have 5 MiB. Nothing was saved.
photo-refused-kind = This is no JPEG, PNG or WebP picture. Nothing was saved.
photo-refused-damaged = This picture cannot be read to its end: send it again, or another one. Nothing was saved.
