/** Says what is wrong with the options of a program in one line, in place of a stack; loaded before it. */
process.on('uncaughtException', (error) => {
  if (String(error?.code).startsWith('ERR_PARSE_ARGS')) {
    console.error(`${error.message}\nSay --help for the options.`);
    process.exit(2);
  }
  console.error(error);
  process.exit(1);
});
