"""Tables and lists around the bench; all edit the document through `layout_app.document`."""
