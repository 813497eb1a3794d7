/**
 * Tables with typed columns, and the files and papers that are made of them.
 *
 * <p>A report says once what its table is ({@link ferrule.report.table.TableDefinition}: the columns, their kinds, what
 * they mean, how a row fills them). From that follow the files (CSV, XLSX, JSON), the table on paper, and its entry in
 * the data dictionary. {@link ferrule.report.table.TablePages} puts them on a page; start there.
 */
package ferrule.report.table;
