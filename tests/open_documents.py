"""Open-document sheets put together part by part: no library of ours writes what it reads."""

from __future__ import annotations

import zipfile


def open_document(path, rows, more="", name="Supports"):
    """Write rows of text and numbers as one sheet.

    Parameters
    ----------
    more
        XML behind the rows.
    """

    def one(value):
        if isinstance(value, str):
            return (
                f'<table:table-cell office:value-type="string"><text:p>{value}</text:p>'
                "</table:table-cell>"
            )
        return (
            f'<table:table-cell office:value-type="float" office:value="{value}">'
            f"<text:p>{value}</text:p></table:table-cell>"
        )

    body = "".join(
        f"<table:table-row>{''.join(one(value) for value in row)}</table:table-row>" for row in rows
    )
    spaces = " ".join(
        f'xmlns:{prefix}="urn:oasis:names:tc:opendocument:xmlns:{prefix}:1.0"'
        for prefix in ("office", "table", "text")
    )
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {spaces}><office:body>'
        f'<office:spreadsheet><table:table table:name="{name}">{body}{more}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    manifest = (
        '<?xml version="1.0"?><manifest:manifest xmlns:manifest='
        '"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>'
    )
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("META-INF/manifest.xml", manifest)
        archive.writestr("content.xml", content)
