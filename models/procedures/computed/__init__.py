"""The procedures: a file each compiles a criterion into a rule."""
