Console.WriteLine("curesim");
