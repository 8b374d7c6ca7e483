"""What people ask after the shift, answered in words and tables that the command line and the pages share."""
