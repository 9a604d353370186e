"""The words of the trade: records, quantities, reasons and errors, on which every other room stands."""
