"""From rig files to an output folder: what to make, making it in processes, swapping it in whole."""
