"""sheetcut plans how heavy paper is cut from large sheets by hand."""
