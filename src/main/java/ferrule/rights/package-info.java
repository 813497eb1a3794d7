/**
 * What a person has a right to: everything that is kept about them, in one file. {@link ferrule.rights.PersonTables} says
 * which rows of which table are about somebody.
 */
package ferrule.rights;
