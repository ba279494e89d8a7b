"""Tables from elsewhere: deliveries and foods out of CSV and XLSX files."""
