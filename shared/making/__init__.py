"""How each cut is made: one record a cut, worked out from plan and shop, never stored.

`strokes` lays every cut over its piece; `settings` names guide, stop and fence settings; `rails`
says which rail and where it lies; `outcome` what each side becomes. Words are found for it in
`shared.telling`.
"""
