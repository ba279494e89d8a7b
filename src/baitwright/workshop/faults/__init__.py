"""Why a batch went wrong, and complaints followed."""
