"""How do sheets become pages and pictures, at the desk?

`pages.write_pdf` makes a PDF of a `notation.sheet.Sheet`, `picture.png` a picture of a drawing. ReportLab, resvg and
the letters of Source Sans (SIL Open Font License 1.1, from the package font-source-sans-pro) live in this room only; in
a browser its own print does this work.
"""
