// Nothing but what the build needs to compile Catch2's header once.
